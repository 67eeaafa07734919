package org.scenespan.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.CodeScale;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.PictureForm;
import org.scenespan.frame.ToneResponse;

class FrameStoreTest {
  @TempDir private Path folder;

  private static PictureForm form(int width, int height, int orientation, boolean rendered) {
    FrameMetadata turned =
        new FrameMetadata(
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            orientation,
            Optional.empty());
    CodeScale scale = rendered ? CodeScale.of(ToneResponse.srgb(8)) : CodeScale.linear16();
    return new PictureForm(width, height, rendered, scale, turned);
  }

  /** A picture of letters, one a pixel, whose three codes tell them apart. */
  private FrameStore store(List<String> stored, int orientation, boolean rendered)
      throws IOException {
    int width = stored.get(0).length();
    return FrameStore.fill(
        folder,
        Path.of("frame"),
        (file, rows) -> {
          rows.begin(form(width, stored.size(), orientation, rendered));
          for (int y = stored.size() - 1; y >= 0; y--) {
            String line = stored.get(y);
            short[] rgb = new short[3 * width];
            for (int i = 0; i < rgb.length; i++) {
              rgb[i] = code(line.charAt(i / 3), i % 3, rendered);
            }
            rows.row(y, rgb);
          }
        });
  }

  private static short code(char letter, int channel, boolean rendered) {
    return (short) (rendered ? letter + channel : 300 * letter + channel);
  }

  /**
   * Where Exif's eight orientations put row 0 and column 0 (CIPA DC-008, 4.6.4, tag 274): the
   * picture abc / def as it is stored, and upright.
   */
  @ParameterizedTest
  @CsvSource({
    "1, abc def",
    "2, cba fed",
    "3, fed cba",
    "4, def abc",
    "5, ad be cf",
    "6, da eb fc",
    "7, fc eb da",
    "8, cf be ad"
  })
  void turnsFramesUpright(int orientation, String upright) throws IOException {
    for (boolean rendered : new boolean[] {true, false}) {
      try (FrameStore store = store(List.of("abc", "def"), orientation, rendered)) {
        String[] lines = upright.split(" ");
        assertEquals(lines.length, store.height());
        assertEquals(lines[0].length(), store.width());
        for (int top = 0; top < lines.length; top++) {
          short[] codes = new short[3 * store.width() * (lines.length - top)];
          store.rows(top, lines.length - top, codes);
          for (int i = 0; i < codes.length; i++) {
            char letter = lines[top + i / 3 / store.width()].charAt(i / 3 % store.width());
            assertEquals(code(letter, i % 3, rendered), codes[i]);
          }
        }
      }
    }
  }

  @Test
  void leavesNothingBehind() throws IOException {
    store(List.of("ab"), 1, true).close();
    PictureReader broken =
        (file, rows) -> {
          rows.begin(form(2, 2, 1, true));
          rows.row(0, new short[6]);
          throw new IOException("it is cut off");
        };
    IOException cut =
        assertThrows(IOException.class, () -> FrameStore.fill(folder, Path.of("x"), broken));
    assertEquals("it is cut off", cut.getMessage());
    PictureReader shorter =
        (file, rows) -> {
          rows.begin(form(2, 2, 1, true));
          rows.row(0, new short[6]);
        };
    IOException missing =
        assertThrows(IOException.class, () -> FrameStore.fill(folder, Path.of("x"), shorter));
    assertEquals("rows are missing", missing.getMessage());
    try (Stream<Path> files = Files.list(folder)) {
      assertEquals(0, files.count());
    }
  }
}
