package org.scenespan.house.planted.wire;

import java.nio.file.Path;

/** Planted: a pure room knows of files. */
public record Reading(Path file) {}
