/** Commands and options, nothing else. Layer 7. */
package org.scenespan.cli;
