package org.scenespan.session;

/**
 * All that a session of some kind is started with; with the inputs it decides the whole session.
 */
public sealed interface Setup permits BracketSetup, TetherSetup, LapseSetup {
  /** The kind of session in a word, as the journal has it. */
  String kind();

  /** The session's name. */
  String session();

  /** The program's version. */
  String program();

  /** The parts that it runs on. */
  Gear gear();

  /** How long things may take. */
  Patience patience();

  /**
   * Looks whether what is asked for can be had at all.
   *
   * @throws IllegalArgumentException if the setup contradicts itself; the message says how
   */
  void check();
}
