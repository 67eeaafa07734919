package org.scenespan.house.planted.session;

/** Planted: a pure room has a thread. */
public record Waiting(Thread thread) {}
