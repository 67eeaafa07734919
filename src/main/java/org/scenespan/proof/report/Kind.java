package org.scenespan.proof.report;

import java.util.List;

/** What a report shows of one kind of session. */
interface Kind {
  /** What the session was asked for: names and values in turn. */
  List<String> asked();

  /** Draws how it went. */
  void drawings(Markup page);

  /** The heads of the table of frames. */
  List<String> heads();

  /** The table of frames, a row each. */
  List<List<String>> rows();

  /** The frames of the contact sheet. */
  List<SheetFrame> frames();
}
