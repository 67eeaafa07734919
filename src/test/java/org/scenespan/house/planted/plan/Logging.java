package org.scenespan.house.planted.plan;

import java.util.logging.Logger;

/** Planted: a pure room logs. */
public record Logging(Logger log) {}
