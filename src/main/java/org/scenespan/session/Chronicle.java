package org.scenespan.session;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;

/**
 * A list that only grows, at the same cost whatever its length: states that follow one another
 * share what they have in common. Each is immutable; one that is grown twice is copied the second
 * time.
 *
 * @param <T> of immutable things
 */
public final class Chronicle<T> {
  private final ArrayList<T> shared;
  private final int size;

  private Chronicle(ArrayList<T> shared, int size) {
    this.shared = shared;
    this.size = size;
  }

  static <T> Chronicle<T> empty() {
    return new Chronicle<>(new ArrayList<>(), 0);
  }

  /** This list and one more at its end. */
  Chronicle<T> plus(T next) {
    ArrayList<T> all = shared;
    synchronized (shared) {
      if (all.size() != size) {
        all = new ArrayList<>(shared.subList(0, size));
      }
      all.add(next);
    }
    return new Chronicle<>(all, size + 1);
  }

  public int size() {
    return size;
  }

  /** The last one. */
  Optional<T> newest() {
    synchronized (shared) {
      return size == 0 ? Optional.empty() : Optional.of(shared.get(size - 1));
    }
  }

  /** What is in it, the oldest first. */
  public List<T> list() {
    synchronized (shared) {
      return Collections.unmodifiableList(new ArrayList<>(shared.subList(0, size)));
    }
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Chronicle<?> that && size == that.size && list().equals(that.list());
  }

  @Override
  public int hashCode() {
    return size;
  }

  @Override
  public String toString() {
    return size + " entries";
  }
}
