package org.scenespan.journal;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.session.Event;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;
import org.scenespan.wire.MalformedRecord;

/**
 * A session's records on disk, one line of JSON each, appended and synchronised before anything is
 * done about them. Appending is for one thread; reading back its lines is for any.
 */
public final class Journal implements AutoCloseable {
  public static final String FILE_NAME = "journal.jsonl";

  /**
   * Locked by whoever appends. Not the journal itself: on POSIX systems a process loses its lock on
   * a file when it closes any other opening of it, and journals are read while they are written.
   */
  static final String LOCK_NAME = "journal.lock";

  /** Lines that are kept in memory at most while the disk takes none: some 25 MB. */
  private static final int MOST_HELD = 8192;

  private final Path file;
  private final FileChannel channel;
  private final FileLock lock;
  private final LineEnds ends;
  private boolean synchronising = true;
  private boolean patient;

  /** Lines that could not be written yet; their ends are known already. Guarded by the ends. */
  private final List<String> held = new ArrayList<>();

  private Optional<String> trouble = Optional.empty();

  private Journal(Path file, FileChannel channel, FileLock lock, LineEnds ends) {
    this.file = file;
    this.channel = channel;
    this.lock = lock;
    this.ends = ends;
  }

  /**
   * Starts the journal of a new session.
   *
   * @param directory the session's own directory, which exists and holds no journal
   * @throws IOException if it cannot be created
   */
  public static Journal create(Path directory) throws IOException {
    Path file = directory.resolve(FILE_NAME);
    FileLock lock = lock(directory);
    try {
      FileChannel channel =
          FileChannel.open(
              file,
              StandardOpenOption.CREATE_NEW,
              StandardOpenOption.READ,
              StandardOpenOption.WRITE);
      syncDirectory(directory);
      return new Journal(file, channel, lock, new LineEnds());
    } catch (IOException | RuntimeException failed) {
      lock.acquiredBy().close();
      throw failed;
    }
  }

  /**
   * Opens the journal of an unfinished session for appending; what a crash left of a last record is
   * cut off.
   *
   * @throws DamagedJournal if a record before the last is wrong
   * @throws IOException if it cannot be read, or another process is appending to it
   */
  public static Journal reopen(Path directory) throws IOException {
    Path file = directory.resolve(FILE_NAME);
    FileLock lock = lock(directory);
    try {
      LineEnds ends = new LineEnds();
      JournalReading.read(directory, (record, end) -> ends.add(end));
      FileChannel channel =
          FileChannel.open(file, StandardOpenOption.READ, StandardOpenOption.WRITE);
      long whole = ends.last();
      channel.truncate(whole);
      channel.force(true);
      return new Journal(file, channel, lock, ends);
    } catch (IOException | RuntimeException failed) {
      lock.acquiredBy().close();
      throw failed;
    }
  }

  /**
   * Appends events; when this returns they are on disk.
   *
   * @return the records as they will be read: numbers have the journal's decimals
   * @throws IOException if they could not be written (a full disk); the journal then ends with its
   *     last whole record, as if nothing had been asked
   */
  public List<JournalRecord> append(List<Event> events, Instant at) throws IOException {
    if (events.isEmpty()) {
      return List.of();
    }
    List<JournalRecord> records = new ArrayList<>();
    List<Long> newEnds = new ArrayList<>();
    List<String> lines = new ArrayList<>();
    long position = ends.last();
    for (Event event : events) {
      String line =
          EventJson.write(new JournalRecord(ends.size() + records.size() + 1L, at, event));
      records.add(readBack(line));
      lines.add(line);
      position += line.getBytes(StandardCharsets.UTF_8).length + 1;
      newEnds.add(position);
    }
    boolean written = write(lines);
    synchronized (ends) {
      ends.addAll(newEnds);
      if (written) {
        held.clear();
      } else {
        held.addAll(lines);
      }
    }
    return records;
  }

  /**
   * Writes what is held and some lines more.
   *
   * @return whether they are on disk; if not, they are to be held
   * @throws IOException if they are not and may not be held
   */
  private boolean write(List<String> lines) throws IOException {
    StringBuilder text = new StringBuilder();
    held.forEach(line -> text.append(line).append('\n'));
    lines.forEach(line -> text.append(line).append('\n'));
    long start = writtenEnd();
    try {
      ByteBuffer bytes = StandardCharsets.UTF_8.encode(text.toString());
      long offset = start;
      while (bytes.hasRemaining()) {
        offset += channel.write(bytes, offset);
      }
      if (synchronising) {
        channel.force(false);
      }
      trouble = Optional.empty();
      return true;
    } catch (IOException full) {
      channel.truncate(start);
      if (patient && held.size() + lines.size() <= MOST_HELD) {
        trouble = Optional.of(String.valueOf(full.getMessage()));
        return false;
      }
      throw new IOException(
          "the journal \"" + file + "\" cannot be written: " + full.getMessage(), full);
    }
  }

  /**
   * From now on records that the disk does not take are held in memory and written with the next
   * ones, as long as there are not too many of them. Only for a session that never does again what
   * it has done: what is held is lost with the program.
   */
  public void holdOn() {
    patient = true;
  }

  /** Why the last records are not on disk, if they are held. */
  public Optional<String> trouble() {
    return trouble;
  }

  /** What a resumed session will know; nothing is written that could not be read. */
  private static JournalRecord readBack(String line) {
    try {
      return EventJson.read(line);
    } catch (MalformedRecord malformed) {
      throw new IllegalStateException("a record that cannot be read back: " + line, malformed);
    }
  }

  /** Where the last record ends that is not held. */
  private long writtenEnd() {
    int written = ends.size() - held.size();
    return written == 0 ? 0 : ends.get(written - 1);
  }

  /**
   * From now on records are handed to the system but not waited for: of a rehearsal in virtual time
   * a power cut may take the last ones, and nothing is lost by that but a rehearsal.
   */
  public void rehearse() {
    synchronising = false;
  }

  /** How many records there are. */
  public long size() {
    synchronized (ends) {
      return ends.size();
    }
  }

  /**
   * The lines after a sequence number, oldest first, at most so many.
   *
   * @param seq 0 for all
   */
  public List<String> since(long seq, int most) throws IOException {
    long from;
    long to;
    List<String> lines = new ArrayList<>();
    List<String> more;
    synchronized (ends) {
      int first = (int) Math.max(0, Math.min(seq, ends.size()));
      int last = Math.min(ends.size(), first + most);
      if (first >= last) {
        return List.of();
      }
      int written = ends.size() - held.size();
      more =
          List.copyOf(
              held.subList(Math.max(first, written) - written, Math.max(last, written) - written));
      from = Math.min(writtenEnd(), first == 0 ? 0 : ends.get(first - 1));
      to = Math.min(writtenEnd(), ends.get(last - 1));
    }
    ByteBuffer bytes = ByteBuffer.allocate(Math.toIntExact(to - from));
    while (bytes.hasRemaining()) {
      if (channel.read(bytes, from + bytes.position()) < 0) {
        throw new IOException("the journal \"" + file + "\" has become shorter");
      }
    }
    new String(bytes.array(), StandardCharsets.UTF_8).lines().forEach(lines::add);
    lines.addAll(more);
    return lines;
  }

  /**
   * @throws IOException if records are held that cannot be written even now
   */
  @Override
  public void close() throws IOException {
    try {
      patient = false;
      if (!held.isEmpty()) {
        write(List.of());
      }
    } finally {
      channel.close();
      lock.acquiredBy().close();
    }
  }

  private static FileLock lock(Path directory) throws IOException {
    FileChannel channel =
        FileChannel.open(
            directory.resolve(LOCK_NAME), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
    try {
      FileLock lock = channel.tryLock();
      if (lock != null) {
        return lock;
      }
    } catch (OverlappingFileLockException here) {
      // The same answer as for another process.
    }
    channel.close();
    throw new IOException("the session \"" + directory + "\" is in use by a running program");
  }

  /** A new file's name is durable only when its directory is. */
  private static void syncDirectory(Path directory) throws IOException {
    try (FileChannel handle = FileChannel.open(directory, StandardOpenOption.READ)) {
      handle.force(true);
    } catch (IOException notHere) {
      // Not every file system lets a directory be opened; those that do not sync names themselves.
      if (!Files.isDirectory(directory)) {
        throw notHere;
      }
    }
  }
}
