package org.scenespan.jar;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.abort;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.scenespan.Needs;

/**
 * A disk in memory that only the programs started {@link #within} see, in a mount namespace of
 * their own: as the superuser, or as anyone where the system gives users namespaces. Where it gives
 * neither, as in some containers, a test of it skips, mandatory or not.
 */
final class SmallDisk implements AutoCloseable {
  private static final String USER_NAMESPACE = "--user";

  private final Process holder;
  private final boolean asUser;
  private final Path place;

  private SmallDisk(Process holder, boolean asUser, Path place) {
    this.holder = holder;
    this.asUser = asUser;
    this.place = place;
  }

  /** Mounts a disk on a folder. */
  static SmallDisk on(Path place, int kilobytes) throws IOException {
    for (boolean asUser : new boolean[] {false, true}) {
      List<String> command = new ArrayList<>();
      command.add(Needs.tool("jar", "unshare").toString());
      command.addAll(
          asUser ? List.of(USER_NAMESPACE, "--map-root-user", "--mount") : List.of("--mount"));
      String script =
          "mount -t tmpfs -o size=" + kilobytes + "k none \"$0\" && echo up && read end";
      command.addAll(List.of("sh", "-c", script, place.toString()));
      Process holder = new ProcessBuilder(command).start();
      if ("up".equals(holder.inputReader().readLine())) {
        return new SmallDisk(holder, asUser, place);
      }
    }
    return abort("this system lets no test mount a disk");
  }

  /** The disk as it is seen from outside. */
  Path seen() {
    return Path.of("/proc/" + holder.pid() + "/root" + place.toAbsolutePath());
  }

  /** By what a program is to be started to see the disk. */
  List<String> within() {
    List<String> command = new ArrayList<>();
    command.add(Needs.tool("jar", "nsenter").toString());
    command.addAll(List.of("--target", Long.toString(holder.pid()), "--mount", "--wdns=."));
    if (asUser) {
      command.addAll(List.of(USER_NAMESPACE, "--preserve-credentials"));
    }
    return command;
  }

  /** Fills it but for so many bytes; it is emptied again by deleting {@code filler}. */
  void fill(long left) throws IOException {
    Path filler = seen().resolve("filler");
    long room = seen().toFile().getUsableSpace() - left;
    assertTrue(room >= 0, "only " + (room + left) + " bytes are left");
    try (OutputStream out = Files.newOutputStream(filler)) {
      byte[] block = new byte[4096];
      for (long done = 0; done < room; done += block.length) {
        out.write(block);
      }
    } catch (IOException full) {
      assertEquals(0, left, full.toString());
    }
  }

  void makeRoom() throws IOException {
    Files.delete(seen().resolve("filler"));
  }

  /** The disk goes with the last process that sees it. */
  @Override
  public void close() {
    holder.destroyForcibly();
  }
}
