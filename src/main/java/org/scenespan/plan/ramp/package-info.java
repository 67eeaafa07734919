/**
 * The exposures of a lapse: what each frame of hours of changing light should be taken with, and
 * how the frames are evened afterwards. Layer 2; pure.
 */
package org.scenespan.plan.ramp;
