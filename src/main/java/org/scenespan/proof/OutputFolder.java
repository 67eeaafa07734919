package org.scenespan.proof;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedOutputStream;
import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The folder that a proof is written into. A file that is there already is replaced only if the
 * folder's own list says that a proof wrote it and it has not changed since; new files appear under
 * their names when all of them are whole.
 */
final class OutputFolder implements AutoCloseable {
  /** The list of what a proof has written, with each file's digest. */
  static final String LIST = "proof.json";

  private static final String UNFINISHED = ".part";
  private static final int BUFFER_BYTES = 1 << 16;

  private final Path folder;
  private final Map<String, String> digests = new LinkedHashMap<>();

  private OutputFolder(Path folder) {
    this.folder = folder;
  }

  /**
   * @param folder is created if it is not there
   * @param names of all files that will be written
   * @throws IOException if a file that is not ours is in the way, or the folder cannot be made
   */
  static OutputFolder open(Path folder, List<String> names) throws IOException {
    Files.createDirectories(folder);
    JsonNode ours = list(folder);
    for (String name : names) {
      Path file = folder.resolve(name);
      if (Files.exists(file) && !ours.path(name).asText().equals(digest(file))) {
        throw new IOException(
            "\""
                + file
                + "\" is in the way: no proof wrote it, or it was changed since; move it,"
                + " or name another folder with --out");
      }
    }
    if (Files.exists(folder.resolve(LIST)) && ours.isMissingNode()) {
      throw new IOException(
          "\""
              + folder.resolve(LIST)
              + "\" is in the way: it is no list of a proof's files; move"
              + " it, or name another folder with --out");
    }
    return new OutputFolder(folder);
  }

  Path path() {
    return folder;
  }

  private static JsonNode list(Path folder) throws IOException {
    Path file = folder.resolve(LIST);
    if (!Files.exists(file)) {
      return new ObjectMapper().missingNode();
    }
    try {
      JsonNode root = new ObjectMapper().readTree(Files.readString(file));
      return ProofResult.FORMAT.equals(root.path("format").asText())
          ? root.path("sha256")
          : new ObjectMapper().missingNode();
    } catch (com.fasterxml.jackson.core.JsonProcessingException notOurs) {
      return new ObjectMapper().missingNode();
    }
  }

  private static String digest(Path file) throws IOException {
    MessageDigest digest = sha256();
    byte[] buffer = new byte[BUFFER_BYTES];
    try (InputStream in = Files.newInputStream(file)) {
      for (int count = in.read(buffer); count >= 0; count = in.read(buffer)) {
        digest.update(buffer, 0, count);
      }
    }
    return HexFormat.of().formatHex(digest.digest());
  }

  private static MessageDigest sha256() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java runtime has SHA-256", e);
    }
  }

  /** Opens a new file; it gets its name with {@link #publish}. */
  OutputStream create(String name) throws IOException {
    Path file = folder.resolve(name + UNFINISHED);
    digests.put(name, "");
    return new Digested(name, new BufferedOutputStream(Files.newOutputStream(file), BUFFER_BYTES));
  }

  /** Where a file that is not written in one go is to be made; {@link #end} when it is whole. */
  Path begin(String name) {
    digests.put(name, "");
    return folder.resolve(name + UNFINISHED);
  }

  /** A file that was begun is whole. */
  void end(String name) throws IOException {
    digests.put(name, digest(folder.resolve(name + UNFINISHED)));
  }

  private final class Digested extends FilterOutputStream {
    private final String name;
    private final MessageDigest digest = sha256();

    Digested(String name, OutputStream out) {
      super(out);
      this.name = name;
    }

    @Override
    public void write(int value) throws IOException {
      digest.update((byte) value);
      out.write(value);
    }

    @Override
    public void write(byte[] bytes, int offset, int length) throws IOException {
      digest.update(bytes, offset, length);
      out.write(bytes, offset, length);
    }

    @Override
    public void close() throws IOException {
      super.close();
      digests.put(name, HexFormat.of().formatHex(digest.digest()));
    }
  }

  /** The digests of the closed files, by name. */
  Map<String, String> digests() {
    return Map.copyOf(digests);
  }

  /**
   * Gives all files their names.
   *
   * @param list the folder's new list
   */
  void publish(String list) throws IOException {
    // Old files go before the list that names them, so that a power cut in the middle leaves none
    // in our way.
    for (String name : digests.keySet()) {
      Files.deleteIfExists(folder.resolve(name));
    }
    Path file = folder.resolve(LIST + UNFINISHED);
    Files.writeString(file, list);
    Files.move(file, folder.resolve(LIST), StandardCopyOption.REPLACE_EXISTING);
    for (String name : digests.keySet()) {
      Files.move(folder.resolve(name + UNFINISHED), folder.resolve(name));
    }
    digests.clear();
  }

  /** Removes what was not published. */
  @Override
  public void close() throws IOException {
    for (String name : digests.keySet()) {
      Files.deleteIfExists(folder.resolve(name + UNFINISHED));
    }
  }
}
