/** Which dial a hand has to turn, which way and how far. */
package org.scenespan.plan.hand;
