package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HashSet;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.light.Ev;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SensorTap;

/** From a bracket of simulated parts to its proof. */
class ProofCommandTest {
  @TempDir private Path directory;
  private Path sessions;

  @BeforeEach
  void name() {
    sessions = directory.resolve("sessions");
  }

  /** Takes a bracket and answers its session's directory. */
  private Path bracket(String words) throws IOException {
    Ran ran = Ran.line("bracket --sessions " + sessions + " " + words);
    assertEquals(0, ran.code(), ran.err());
    try (Stream<Path> all = Files.list(sessions)) {
      return all.findFirst().orElseThrow();
    }
  }

  private Ran proof(Path session, String... more) {
    return Ran.line("proof --sessions " + sessions + " " + session.getFileName(), more);
  }

  /** Every file of a directory with its bytes' hash and time of change. */
  private static Map<String, String> contents(Path folder) throws IOException {
    Map<String, String> contents = new TreeMap<>();
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path file : files.filter(Files::isRegularFile).toList()) {
        contents.put(
            folder.relativize(file).toString(),
            Arrays.hashCode(Files.readAllBytes(file)) + " " + Files.getLastModifiedTime(file));
      }
    }
    return contents;
  }

  /**
   * The simulated camera renders plain sRGB, so the merged radiance is the scene's: the ratio to it
   * is 1 within 2 % for half of the pixels and within 25 % for 99 %, which is what the JPEGs' eight
   * bits and compression leave; in the unit that the file states, cd/m² with K 12.5.
   */
  @Test
  void mergesTheBundledScene() throws IOException {
    Path session = bracket("--simulate ridge");
    Map<String, String> before = contents(session);
    Ran ran = proof(session);
    assertEquals(0, ran.code(), ran.err());
    assertTrue(ran.out().contains("Merged 4 frames of 960 x 640 pixels"), ran.out());
    assertTrue(ran.out().contains("Clipped in every frame: 0 %"), ran.out());

    Map<String, String> after = contents(session);
    assertTrue(after.keySet().containsAll(before.keySet()));
    before.forEach((file, content) -> assertEquals(content, after.get(file), file));
    Set<String> added = new HashSet<>(after.keySet());
    added.removeAll(before.keySet());
    assertEquals(
        Set.of(
            "proof/radiance.hdr",
            "proof/radiance.tif",
            "proof/fused.jpg",
            "proof/snr.png",
            "proof/flags.png",
            "proof/proof.json"),
        added);

    Scene scene = Scene.bundled("ridge", new Ev(12));
    float[][] merged = SensorTap.radiance(session.resolve("proof/radiance.hdr"));
    double[] ratios = new double[960 * 640];
    for (int i = 0; i < ratios.length; i++) {
      int x = i % 960;
      int y = i / 960;
      // The file's EXPOSURE brings it to W/(sr·m²), at 179 lumens to a watt; EV 0 is 0.125 cd/m².
      double candela = 179 * merged[y][3 * x + 1];
      double truth = 0.125 * Math.pow(2, scene.evOf(SensorTap.row(scene, y)[3 * x + 1]).value());
      ratios[i] = Math.abs(Math.log(candela / truth));
    }
    Arrays.sort(ratios);
    assertTrue(ratios[ratios.length / 2] < Math.log(1.02), "half: " + ratios[ratios.length / 2]);
    assertTrue(
        ratios[ratios.length / 100 * 99] < Math.log(1.25),
        "99 %: " + ratios[ratios.length / 100 * 99]);

    BufferedImage fused = ImageIO.read(session.resolve("proof/fused.jpg").toFile());
    assertEquals(960, fused.getWidth());
    Set<Integer> colours = new HashSet<>();
    for (int x = 0; x < 960; x += 7) {
      for (int y = 0; y < 640; y += 7) {
        colours.add(fused.getRGB(x, y));
      }
    }
    assertTrue(colours.size() > 1000, "colours " + colours.size());
  }

  @Test
  void replacesItsOwnFilesAndNoOthers() throws IOException {
    Path session = bracket("--simulate flat");
    assertEquals(0, proof(session).code());
    assertEquals(0, proof(session).code());
    Path map = session.resolve("proof/snr.png");
    Files.writeString(map, "a picture of my own");
    Ran refused = proof(session);
    assertEquals(2, refused.code());
    assertTrue(refused.err().contains("snr.png\" is in the way"), refused.err());
    assertEquals("a picture of my own", Files.readString(map));
  }

  /** Raw frames are merged from the raw, fused from the camera's JPEGs beside them. */
  @Test
  void mergesRawFrames() throws IOException {
    Path session = bracket("--simulate window --raw");
    Ran ran = proof(session, "--json", "--out", directory.resolve("elsewhere").toString());
    assertEquals(0, ran.code(), ran.err());
    JsonNode result = new ObjectMapper().readTree(ran.out());
    assertEquals("raw data", result.get("linear").asText());
    assertTrue(result.get("belowSnrFraction").asDouble() <= 0.01, ran.out());
    assertFalse(Files.exists(session.resolve("proof")));
    assertTrue(Files.exists(directory.resolve("elsewhere/radiance.hdr")));
  }

  @Test
  void goesOnWithoutAFrameThatCannotBeRead() throws IOException {
    Path session = bracket("--simulate ridge");
    Files.delete(session.resolve("frames/SCN_0002.JPG"));
    Ran ran = proof(session);
    assertEquals(2, ran.code());
    assertTrue(ran.out().contains("Merged 3 frames"), ran.out());
    assertTrue(ran.err().contains("SCN_0002.JPG: the file has gone"), ran.err());
  }

  @ParameterizedTest
  @CsvSource({
    "'', nosuch, there is no session",
    "--out frames/proof, '', in the hot folder",
    "--out frames, '', in the hot folder",
    "--camera nosuch, '', there is no camera profile",
  })
  void saysWhatIsWrong(String options, String name, String told) throws IOException {
    Path session = bracket("--simulate flat");
    Map<String, String> before = contents(session);
    String words = options.replace("frames", session.resolve("frames").toString());
    Ran ran =
        Ran.line(
            "proof --sessions "
                + sessions
                + " "
                + words
                + " "
                + (name.isEmpty() ? session.getFileName() : name));
    assertEquals(2, ran.code());
    assertTrue(ran.err().contains(told), ran.err());
    assertEquals(1, ran.err().lines().count());
    assertEquals(before, contents(session));
  }
}
