/** The loop, the clock and the wiring of a session, on real parts or on simulated ones. Layer 6. */
package org.scenespan.control;
