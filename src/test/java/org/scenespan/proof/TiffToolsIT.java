package org.scenespan.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.Needs;

/** A merged TIFF before libtiff's own tool, which complains of whatever the standard forbids. */
class TiffToolsIT {
  @TempDir private Path folder;

  @Test
  void libtiffTakesIt() throws Exception {
    Path tool = Needs.tool("codec", "tiffinfo");
    Path file = folder.resolve("picture.tif");
    int width = 123;
    int height = 700;
    try (OutputStream out = Files.newOutputStream(file)) {
      FloatTiffWriter writer = new FloatTiffWriter(out, width, height, BracketProof.unit(4096));
      for (int y = 0; y < height; y++) {
        writer.row(new float[3 * width], 0);
      }
    }
    // -D reads every strip.
    Process process =
        new ProcessBuilder(tool.toString(), "-D", file.toString())
            .redirectErrorStream(true)
            .start();
    String told = new String(process.getInputStream().readAllBytes());
    assertTrue(process.waitFor(20, TimeUnit.SECONDS));
    assertEquals(0, process.exitValue(), told);
    for (String line :
        new String[] {
          "Image Width: 123 Image Length: 700",
          "Bits/Sample: 32",
          "Sample Format: IEEE floating point",
          "Samples/Pixel: 3",
          "1.0 = 4096.0 cd/m2"
        }) {
      assertTrue(told.contains(line), told);
    }
    assertTrue(!told.contains("Warning") && !told.contains("Error"), told);
  }
}
