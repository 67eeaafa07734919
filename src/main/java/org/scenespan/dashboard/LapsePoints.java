package org.scenespan.dashboard;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Arrays;
import java.util.BitSet;
import org.scenespan.light.Ev;

/** A lapse's course as numbers by its places: some 12 bytes a place. */
final class LapsePoints {
  /** Points that are handed to a page. */
  static final int MOST_POINTS = 1_500;

  /** Of those, the newest places, which are handed over whole. */
  private static final int NEWEST = 400;

  private static final int FIRST_ROOM = 256;

  private float[] set = empty(FIRST_ROOM);
  private float[] wanted = empty(FIRST_ROOM);
  private float[] light = empty(FIRST_ROOM);
  private int places;

  /** What was chosen for a place, from 1. */
  void chosen(int place, Ev exposure, Ev ideal) {
    reach(place);
    set[place - 1] = (float) exposure.value();
    wanted[place - 1] = (float) ideal.value();
  }

  /** What a place's frame was really taken with, and the scene's light that it told, if it did. */
  void framed(int place, Ev exposure, double scene) {
    reach(place);
    set[place - 1] = (float) exposure.value();
    light[place - 1] = (float) scene;
  }

  private void reach(int place) {
    if (place > set.length) {
      int room = Math.max(place, 2 * set.length);
      set = grown(set, room);
      wanted = grown(wanted, room);
      light = grown(light, room);
    }
    places = Math.max(places, place);
  }

  private static float[] empty(int room) {
    float[] values = new float[room];
    Arrays.fill(values, Float.NaN);
    return values;
  }

  private static float[] grown(float[] values, int room) {
    float[] more = empty(room);
    System.arraycopy(values, 0, more, 0, values.length);
    return more;
  }

  /** Columns of the places before one, thinned; those at which nothing was done are left out. */
  void write(ObjectNode node, int before) {
    int count = Math.min(places, before - 1);
    BitSet kept = Thinning.kept(count, MOST_POINTS, NEWEST, light, set);
    ArrayNode column = node.putArray("place");
    kept.stream().filter(i -> !Float.isNaN(set[i])).forEach(i -> column.add(i + 1));
    write(node.putArray("light"), light, kept);
    write(node.putArray("set"), set, kept);
    write(node.putArray("wanted"), wanted, kept);
  }

  private void write(ArrayNode column, float[] values, BitSet kept) {
    kept.stream()
        .filter(i -> !Float.isNaN(set[i]))
        .forEach(
            i -> {
              if (Float.isNaN(values[i])) {
                column.addNull();
              } else {
                column.add(Math.rint(values[i] * 100.0) / 100);
              }
            });
  }
}
