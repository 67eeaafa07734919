/**
 * The serial edge: device profiles, the dialogue with a trigger, and the ports it runs over. Layer
 * 5: imports {@code light} and {@code session}, and none of its siblings. Nothing here decides what
 * a failure means: every one leaves as an {@link org.scenespan.session.Input}.
 */
package org.scenespan.trigger;
