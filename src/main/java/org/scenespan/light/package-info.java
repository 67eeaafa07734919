/**
 * The arithmetic of exposure: stops, EV, shutter, aperture, ISO, and what a camera can do within
 * what the picture allows. Layer 0: imports nothing of the project.
 */
package org.scenespan.light;
