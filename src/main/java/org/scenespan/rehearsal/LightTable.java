package org.scenespan.rehearsal;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.regex.Pattern;
import org.scenespan.light.Ev;

/**
 * Measured light: a comma-separated table with the header {@code seconds,ev} and a row a moment, by
 * rising time. Between two rows runs a straight line; before the first and after the last the light
 * stays.
 */
public final class LightTable implements LightCurve {
  /** A week at two rows a second. */
  public static final int MOST_ROWS = 1_209_600;

  private static final String HEADER = "seconds,ev";

  /** A row is two short numbers; what is longer is no row. */
  private static final int MOST_CHARACTERS = 80;

  private static final double MOST_SECONDS = 7 * 86_400;
  private static final double LOWEST_EV = -30;
  private static final double HIGHEST_EV = 40;

  private static final Pattern NUMBER =
      Pattern.compile("[+-]?(?:\\d+(?:\\.\\d*)?|\\.\\d+)(?:[eE][+-]?\\d{1,3})?");

  private final double[] seconds;
  private final double[] ev;

  private LightTable(double[] seconds, double[] ev) {
    this.seconds = seconds;
    this.ev = ev;
  }

  static LightTable read(Path csv) {
    try (BufferedReader reader = Files.newBufferedReader(csv, StandardCharsets.UTF_8)) {
      return new Reading(csv.toString(), reader).table();
    } catch (CharacterCodingException e) {
      throw new IllegalArgumentException(csv + " is not a text in UTF-8", e);
    } catch (IOException e) {
      throw new IllegalArgumentException(csv + " cannot be read: " + reason(e), e);
    }
  }

  private static String reason(IOException e) {
    return e instanceof java.nio.file.NoSuchFileException ? "there is no such file" : "" + e;
  }

  /** The time of the first row. */
  public double firstSeconds() {
    return seconds[0];
  }

  /** The time of the last row. */
  public double lastSeconds() {
    return seconds[seconds.length - 1];
  }

  public int rows() {
    return seconds.length;
  }

  @Override
  public Ev at(double when) {
    int found = Arrays.binarySearch(seconds, when);
    if (found >= 0) {
      return new Ev(ev[found]);
    }
    int after = -found - 1;
    if (after == 0) {
      return new Ev(ev[0]);
    }
    if (after == seconds.length) {
      return new Ev(ev[after - 1]);
    }
    double share = (when - seconds[after - 1]) / (seconds[after] - seconds[after - 1]);
    return new Ev(ev[after - 1] + share * (ev[after] - ev[after - 1]));
  }

  /** Strict, a line at a time, and bounded. */
  private static final class Reading {
    private final String name;
    private final BufferedReader reader;
    private int line;
    private double[] seconds = new double[512];
    private double[] ev = new double[512];
    private int rows;

    Reading(String name, BufferedReader reader) {
      this.name = name;
      this.reader = reader;
    }

    LightTable table() throws IOException {
      String header = nextLine();
      if (header != null && header.startsWith("\ufeff")) {
        header = header.substring(1);
      }
      if (header == null || !header.strip().equals(HEADER)) {
        throw wrong("the first line must be \"" + HEADER + "\"");
      }
      for (String row = nextLine(); row != null; row = nextLine()) {
        add(row);
      }
      if (rows == 0) {
        throw wrong("there is no row under the header");
      }
      return new LightTable(Arrays.copyOf(seconds, rows), Arrays.copyOf(ev, rows));
    }

    private void add(String row) {
      if (rows == MOST_ROWS) {
        throw wrong("there are more than " + MOST_ROWS + " rows");
      }
      String[] parts = row.split(",", -1);
      if (parts.length != 2) {
        throw wrong("a row is two numbers with a comma between them");
      }
      double when = number("seconds", parts[0], 0, MOST_SECONDS);
      if (rows > 0 && !(when > seconds[rows - 1])) {
        throw wrong("seconds must rise from row to row");
      }
      if (rows == seconds.length) {
        seconds = Arrays.copyOf(seconds, 2 * rows);
        ev = Arrays.copyOf(ev, 2 * rows);
      }
      seconds[rows] = when;
      ev[rows] = number("ev", parts[1], LOWEST_EV, HIGHEST_EV);
      rows++;
    }

    private double number(String column, String text, double least, double most) {
      if (!NUMBER.matcher(text.strip()).matches()) {
        throw wrong(column + " is not a number");
      }
      double value = Double.parseDouble(text.strip());
      if (!(value >= least && value <= most)) {
        throw wrong(column + " must be " + least + " to " + most);
      }
      return value;
    }

    /** Reads by character, since a line without an end must not fill the memory. */
    private String nextLine() throws IOException {
      line++;
      StringBuilder text = new StringBuilder();
      int character = reader.read();
      if (character < 0) {
        return null;
      }
      while (character >= 0 && character != '\n') {
        text.append((char) character);
        if (text.length() > MOST_CHARACTERS) {
          throw wrong("a line is longer than " + MOST_CHARACTERS + " characters");
        }
        character = reader.read();
      }
      int last = text.length() - 1;
      return last >= 0 && text.charAt(last) == '\r' ? text.substring(0, last) : text.toString();
    }

    private IllegalArgumentException wrong(String what) {
      return new IllegalArgumentException(name + ", line " + line + ": " + what);
    }
  }
}
