/**
 * Which exposure comes next and why. Layer 2: imports only {@code light}, {@code frame} and {@code
 * sky}.
 */
package org.scenespan.plan;
