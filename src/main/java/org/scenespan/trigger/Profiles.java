package org.scenespan.trigger;

import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.JarURLConnection;
import java.net.URI;
import java.net.URL;
import java.net.URLConnection;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.stream.Stream;

/** The device profiles at hand: a user's own directory first, then the ones shipped inside. */
public final class Profiles {
  /** More than any hand-written profile: 64 KiB. */
  static final int MAX_PROFILE_BYTES = 64 * 1024;

  private static final String PACKED = "/device-profiles/";
  private static final String SUFFIX = ".json";
  private static final String NAME = "[a-z0-9-]{1,64}";
  private static final String SCHEMA = "profile.schema.json";

  /** A field given twice, or text behind the object, is a slip that would pass unseen. */
  private static final ObjectMapper JSON =
      JsonMapper.builder()
          .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .build();

  private final Optional<Path> own;

  /**
   * @param own the user's directory of profiles; it need not exist
   */
  public Profiles(Optional<Path> own) {
    this.own = own;
  }

  /**
   * Loads a profile by its name, or from a file if the text ends in {@code .json}.
   *
   * @throws IllegalArgumentException if there is none or it is wrong: one line
   */
  public Profile load(String nameOrFile) {
    if (nameOrFile.endsWith(SUFFIX)) {
      return fromFile(nameOrFile);
    }
    if (!nameOrFile.matches(NAME)) {
      throw unknown(nameOrFile);
    }
    Optional<Path> file =
        own.map(directory -> directory.resolve(nameOrFile + SUFFIX)).filter(Files::isRegularFile);
    return file.isPresent() ? read(file.get()) : fromPacked(nameOrFile);
  }

  /**
   * The names that can be loaded, sorted.
   *
   * @throws IllegalArgumentException if the user's directory cannot be listed
   */
  public List<String> names() {
    TreeSet<String> names = new TreeSet<>();
    try {
      if (own.isPresent() && Files.isDirectory(own.get())) {
        names.addAll(namesIn(own.get()));
      }
      names.addAll(packedNames());
    } catch (IOException e) {
      throw new IllegalArgumentException("cannot list the profiles: " + e.getMessage(), e);
    }
    return List.copyOf(names);
  }

  /**
   * Keeps what a check found as a profile of the user's own, which from then on comes before a
   * shipped one of the same name. The file is whole or not there at all.
   *
   * @param base the profile that was checked: a name or a file
   * @param name what the new one is called
   * @param replace whether a profile of the user's own of that name may be replaced
   * @return where it is
   * @throws IllegalArgumentException if it may not be written there: one line
   * @throws IOException if it cannot be written
   */
  public Path learn(String base, String name, Profile.Measured measured, boolean replace)
      throws IOException {
    Path file = requireFree(name, replace);
    ObjectNode json = (ObjectNode) JSON.readTree(source(base));
    json.remove("$schema");
    json.put("name", name);
    // The answer comes after the shutter has opened: it bounds the lag from above.
    json.put(
        "releaseLagMillis",
        (int) Math.min(ProfileReader.MAX_LAG_MILLIS, Math.round(measured.answerMillis())));
    ObjectNode found = json.putObject("measured");
    found.put("frames", measured.frames());
    found.put("answerMillis", measured.answerMillis());
    found.put("jitterMillis", measured.jitterMillis());
    measured.exposureErrorMillis().ifPresent(error -> found.put("exposureErrorMillis", error));
    // What is written must be read again.
    ProfileReader.read(name + SUFFIX, json);
    Files.createDirectories(file.getParent());
    Path part = Files.createTempFile(file.getParent(), "." + name, ".part");
    try {
      Files.write(part, JSON.writerWithDefaultPrettyPrinter().writeValueAsBytes(json));
      Files.move(part, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } finally {
      Files.deleteIfExists(part);
    }
    return file;
  }

  /**
   * Where a profile of the user's own of a name is or would be.
   *
   * @param replace whether there may be one already
   * @throws IllegalArgumentException if it may not be written there: one line
   */
  public Path requireFree(String name, boolean replace) {
    Path directory =
        own.orElseThrow(() -> new IllegalArgumentException("there is no place for own profiles"));
    if (!name.matches(NAME)) {
      throw new IllegalArgumentException(
          "profile name (\"" + name + "\") must be small letters, digits and hyphens");
    }
    if (Files.exists(directory.resolve(SCHEMA))) {
      throw new IllegalArgumentException(
          "\"" + directory + "\" holds the shipped profiles; give a directory of your own");
    }
    Path file = directory.resolve(name + SUFFIX);
    if (Files.exists(file) && !replace) {
      throw new IllegalArgumentException(
          "you have a profile \"" + file + "\" already; give --replace, or another --name");
    }
    return file;
  }

  /** The text of a profile that can be loaded. */
  private byte[] source(String nameOrFile) throws IOException {
    load(nameOrFile);
    if (nameOrFile.endsWith(SUFFIX)) {
      return Files.readAllBytes(Path.of(nameOrFile));
    }
    Path mine = own.orElseThrow().resolve(nameOrFile + SUFFIX);
    if (Files.isRegularFile(mine)) {
      return Files.readAllBytes(mine);
    }
    try (InputStream in = Profiles.class.getResourceAsStream(PACKED + nameOrFile + SUFFIX)) {
      return in.readAllBytes();
    }
  }

  private Profile fromFile(String text) {
    Path file;
    try {
      file = Path.of(text);
    } catch (InvalidPathException e) {
      throw new IllegalArgumentException("profile \"" + text + "\": not a file's name", e);
    }
    if (!Files.isRegularFile(file)) {
      throw new IllegalArgumentException(
          "profile \"" + text + "\": no such file; known names: " + String.join(", ", names()));
    }
    return read(file);
  }

  private static Profile read(Path file) {
    String source = file.getFileName().toString();
    try (InputStream in = Files.newInputStream(file)) {
      return parse(source, in.readNBytes(MAX_PROFILE_BYTES + 1));
    } catch (IOException e) {
      throw new IllegalArgumentException(
          "profile \"" + source + "\": cannot be read: " + e.getMessage(), e);
    }
  }

  private Profile fromPacked(String name) {
    try (InputStream in = Profiles.class.getResourceAsStream(PACKED + name + SUFFIX)) {
      if (in == null) {
        throw unknown(name);
      }
      return parse(name + SUFFIX, in.readNBytes(MAX_PROFILE_BYTES + 1));
    } catch (IOException e) {
      throw new UncheckedIOException("profile \"" + name + "\" cannot be read", e);
    }
  }

  private IllegalArgumentException unknown(String name) {
    return new IllegalArgumentException(
        "no profile \""
            + name
            + "\"; known: "
            + String.join(", ", names())
            + ", or give a .json file");
  }

  /**
   * Reads a profile's text.
   *
   * @param source what to call it in an error
   * @throws IllegalArgumentException if it is wrong: one line
   */
  static Profile parse(String source, byte[] json) {
    if (json.length > MAX_PROFILE_BYTES) {
      throw new IllegalArgumentException(
          "profile \"" + source + "\": longer than " + MAX_PROFILE_BYTES + " bytes");
    }
    JsonNode tree;
    try {
      tree = JSON.readTree(json);
    } catch (JsonProcessingException e) {
      JsonLocation at = e.getLocation();
      String where = at == null ? "" : "line " + at.getLineNr() + ", column " + at.getColumnNr();
      throw new IllegalArgumentException(
          "profile \"" + source + "\": " + where + ": " + firstLine(e.getOriginalMessage()), e);
    } catch (IOException e) {
      throw new IllegalArgumentException(
          "profile \"" + source + "\": " + firstLine(e.getMessage()), e);
    }
    return ProfileReader.read(source, tree);
  }

  private static String firstLine(String message) {
    return message.lines().findFirst().orElse("not JSON");
  }

  private static List<String> packedNames() throws IOException {
    // The schema lies beside the profiles: where it is found, they can be listed.
    URL schema = Profiles.class.getResource(PACKED + SCHEMA);
    if (schema == null) {
      return List.of();
    }
    URLConnection connection = schema.openConnection();
    if (connection instanceof JarURLConnection jar) {
      String prefix = PACKED.substring(1);
      return jar.getJarFile().stream()
          .map(entry -> entry.getName())
          .filter(name -> name.startsWith(prefix))
          .map(name -> name.substring(prefix.length()))
          .filter(Profiles::isProfile)
          .map(Profiles::nameOf)
          .toList();
    }
    return namesIn(Path.of(URI.create(schema.toString())).getParent());
  }

  private static List<String> namesIn(Path directory) throws IOException {
    try (Stream<Path> files = Files.list(directory)) {
      return files
          .map(file -> file.getFileName().toString())
          .filter(Profiles::isProfile)
          .map(Profiles::nameOf)
          .toList();
    }
  }

  /** By its name alone; the schema's name has a dot too many. */
  private static boolean isProfile(String file) {
    return file.matches(NAME + "\\.json");
  }

  private static String nameOf(String file) {
    return file.substring(0, file.length() - SUFFIX.length());
  }
}
