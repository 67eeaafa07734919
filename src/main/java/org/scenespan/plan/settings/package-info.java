/**
 * The settings for a picture that is wanted: what each wish asks of an exposure, which settings on
 * the camera's ladder meet them, what each gives up, and the outline of a lapse. Layer 2, pure.
 */
package org.scenespan.plan.settings;
