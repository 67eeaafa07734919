package org.scenespan.house.planted.frame;

import java.util.SplittableRandom;
import org.scenespan.house.planted.light.Upward;

/** Planted: a pure room throws dice, and closes a cycle. */
public record Guessing(SplittableRandom dice, Upward lower) {}
