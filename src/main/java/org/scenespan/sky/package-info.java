/**
 * The sun and the light it leaves on the ground: position, transit, rise and set, twilights, and
 * the illuminance to expect under a clear sky. Layer 1: pure; a thin face on a library that
 * computes the sun's position by the Solar Position Algorithm (Reda and Andreas,
 * NREL/TP-560-34302).
 */
package org.scenespan.sky;
