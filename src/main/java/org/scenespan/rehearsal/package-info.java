/**
 * A scene, a camera and a trigger made of software: for the demo, for trying a plan at home, and
 * for tests, which add faults to it. Layer 5: imports {@code light}, {@code frame} and what lies
 * between them and {@code wire}, never another layer-5 package. Time is an argument everywhere but
 * in {@link org.scenespan.rehearsal.Emulation}, and every chance comes from a seed.
 */
package org.scenespan.rehearsal;
