/**
 * Whether a frame is as its reference frame, and whether the light is going somewhere. Layer 2;
 * pure.
 */
package org.scenespan.plan.guard;
