/**
 * What pixels tell: tone response, log histogram, clipping, noise model, reach, sharpness. Arrays
 * in, numbers out. Layer 1: imports only {@code light}.
 */
package org.scenespan.frame;
