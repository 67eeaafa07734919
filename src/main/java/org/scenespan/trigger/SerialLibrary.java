package org.scenespan.trigger;

import com.fazecast.jSerialComm.SerialPort;
import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * Loads the serial library's native part from a folder that only this user can write. Left alone,
 * it is unpacked world-writable into the shared temporary folder, where anyone could replace it.
 */
final class SerialLibrary {
  static final String FOLDER_PREFIX = "scenespan-serial-" + ProcessHandle.current().pid() + "-";

  private static boolean loaded;

  private SerialLibrary() {}

  /**
   * Loads the library if it is not yet; to be called before any other use of it.
   *
   * @throws IOException if it cannot be unpacked or does not run on this machine
   */
  static synchronized void load() throws IOException {
    if (loaded) {
      return;
    }
    // Private by default on POSIX. It must come before the property changes: the JDK keeps the
    // temporary folder that it saw first, so nobody else is misled.
    Path folder = Files.createTempDirectory(FOLDER_PREFIX);
    String shared = System.getProperty("java.io.tmpdir");
    try {
      // The library knows jSerialComm.library.path, but only to load from, never to unpack into;
      // where that is set, as by an installer, it still comes first.
      System.setProperty("java.io.tmpdir", folder.toString());
      SerialPort.getVersion();
      loaded = true;
    } catch (LinkageError e) {
      throw new IOException("serial ports cannot be used on this machine: " + e.getMessage(), e);
    } finally {
      System.setProperty("java.io.tmpdir", shared);
      discard(folder);
    }
  }

  /** A loaded library needs its file no more, except on Windows, where it goes at the exit. */
  private static void discard(Path path) {
    path.toFile().deleteOnExit();
    try {
      if (Files.isDirectory(path)) {
        try (DirectoryStream<Path> inside = Files.newDirectoryStream(path)) {
          inside.forEach(SerialLibrary::discard);
        }
      }
      Files.deleteIfExists(path);
    } catch (IOException stillInUse) {
      // deleteOnExit has it.
    }
  }
}
