/**
 * Events as JSON: the one form for the journal on disk, the dashboard's feed and {@code --json}.
 * Layer 4; pure.
 */
package org.scenespan.wire;
