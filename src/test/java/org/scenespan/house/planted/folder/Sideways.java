package org.scenespan.house.planted.folder;

import org.scenespan.house.planted.trigger.Ticking;

/** Planted: an edge imports its sibling. */
public record Sideways(Ticking sibling) {}
