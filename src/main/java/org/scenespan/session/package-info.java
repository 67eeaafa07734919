/**
 * The rules of a session: inputs, events, state, effects and one {@code step}. Layer 3: imports
 * only {@code light}, {@code frame}, {@code sky} and {@code plan}; pure.
 */
package org.scenespan.session;
