/** Measurements: run by hand or by the build's bench profile, never as tests. */
package org.scenespan.bench;
