/**
 * The session on disk: append, sync, recover. Layer 5; a sibling of the other edges, imports none
 * of them.
 */
package org.scenespan.journal;
