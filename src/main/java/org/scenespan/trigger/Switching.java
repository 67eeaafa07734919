package org.scenespan.trigger;

/** A contact on a modem line that is to be closed or opened now. */
public record Switching(ModemLine line, boolean closed) {}
