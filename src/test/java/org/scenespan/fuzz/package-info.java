/** Seeded mutations of valid input, fed to everything that reads what others wrote. */
package org.scenespan.fuzz;
