package org.scenespan.house.planted.light;

import org.scenespan.house.planted.frame.Guessing;

/** Planted: a lower room depends on a higher one, which depends on it. */
public record Upward(Guessing higher) {}
