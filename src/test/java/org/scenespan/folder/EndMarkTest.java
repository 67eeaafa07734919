package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteOrder;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class EndMarkTest {
  private static Optional<String> missing(String name, byte[] content) throws IOException {
    try (FileSystem memory = Jimfs.newFileSystem(Configuration.unix())) {
      Path file = memory.getPath("/" + name);
      Files.write(file, content);
      return EndMark.missing(file, FrameName.of(name).orElseThrow());
    }
  }

  private static boolean isWhole(String name, byte[] content) throws IOException {
    return missing(name, content).isEmpty();
  }

  @Test
  void aJpegIsWholeOnlyWithItsLastByte() throws IOException {
    byte[] jpeg = Pictures.jpeg(40, 30, 1);
    for (int length = 0; length < jpeg.length; length++) {
      assertTrue(missing("a.jpg", Arrays.copyOf(jpeg, length)).isPresent(), length + " bytes");
    }
    assertTrue(isWhole("a.jpg", jpeg));
    assertTrue(isWhole("a.jpg", Arrays.copyOf(jpeg, jpeg.length + 700)), "padding after it");
    byte[] two = Arrays.copyOf(jpeg, jpeg.length * 2);
    System.arraycopy(jpeg, 0, two, jpeg.length, jpeg.length);
    assertTrue(isWhole("a.jpg", two), "a second picture after it");
  }

  @Test
  void theEndMarkOfAThumbnailIsNotTheEnd() throws IOException {
    byte[] thumbnail = Pictures.jpeg(16, 16, 2);
    byte[] jpeg = Pictures.withExif(Pictures.jpeg(40, 30, 1), thumbnail);
    assertTrue(isWhole("a.jpg", jpeg));
    assertTrue(missing("a.jpg", Arrays.copyOf(jpeg, jpeg.length - 2)).isPresent());
    assertTrue(missing("a.jpg", Arrays.copyOf(jpeg, thumbnail.length + 12)).isPresent());
  }

  @Test
  void aRawIsWholeOnlyWithItsLastByte() throws IOException {
    for (ByteOrder order : List.of(ByteOrder.BIG_ENDIAN, ByteOrder.LITTLE_ENDIAN)) {
      byte[] dng = Pictures.dng(order, Pictures.sites(20, 10, 16383, 1)).file();
      // The last value of the last directory ends the file.
      byte[] cut = Arrays.copyOf(dng, dng.length - 1);
      assertTrue(isWhole("a.dng", dng));
      assertTrue(missing("a.dng", cut).isPresent());
      assertTrue(missing("a.dng", Arrays.copyOf(dng, 100)).isPresent());
      assertTrue(missing("a.dng", Arrays.copyOf(dng, 8)).isPresent());
    }
  }

  @Test
  void aPngIsWholeWithItsLastChunk() throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    ImageIO.write(new BufferedImage(30, 20, BufferedImage.TYPE_INT_RGB), "png", bytes);
    byte[] png = bytes.toByteArray();
    assertTrue(isWhole("a.png", png));
    assertTrue(missing("a.png", Arrays.copyOf(png, png.length - 1)).isPresent());
    assertTrue(missing("a.png", Arrays.copyOf(png, png.length / 2)).isPresent());
  }

  @Test
  void aTextIsNoPictureWhateverItsName() throws IOException {
    byte[] text = "Shot list: ridge, arch, hall.".getBytes();
    assertEquals(Optional.of("its first bytes are not those of a picture"), missing("a.jpg", text));
    assertTrue(missing("a.jpg", new byte[] {(byte) 0xff}).isPresent());
    assertTrue(missing("a.dng", text).isPresent());
  }

  @Test
  void directoriesInACircleComeToAnEnd() throws IOException {
    byte[] circle = new TiffBytes(ByteOrder.BIG_ENDIAN).shorts(256, 1).longs(330, 8).file();
    assertTrue(missing("a.dng", circle).orElseThrow().contains("circle"));
  }

  /** Photographs of many cameras, some with padding or further data after the picture. */
  @Test
  void everyPhotographIsWhole() throws IOException {
    List<String> wrong = new ArrayList<>();
    for (Path photo : photographs()) {
      EndMark.missing(photo, FrameName.of(photo.getFileName().toString()).orElseThrow())
          .ifPresent(reason -> wrong.add(photo.getFileName() + ": " + reason));
    }
    assertEquals(List.of(), wrong);
  }

  /**
   * Two of the photographs have a second picture behind the first, from 95 % and 79 % of the file
   * on: cut there, they have lost nothing of the first.
   */
  @ParameterizedTest
  @CsvSource({
    "0.02,",
    "0.25,",
    "0.5,",
    "0.75,",
    "0.9, photo-02.jpg",
    "0.96, photo-01.jpg photo-02.jpg"
  })
  void noCutPhotographIsWhole(double part, String secondPictureCut) throws IOException {
    List<String> whole = new ArrayList<>();
    for (Path photo : photographs()) {
      byte[] content = Files.readAllBytes(photo);
      String name = photo.getFileName().toString();
      if (isWhole(name, Arrays.copyOf(content, (int) (content.length * part)))) {
        whole.add(name);
      }
    }
    assertEquals(secondPictureCut == null ? "" : secondPictureCut, String.join(" ", whole));
  }

  private static List<Path> photographs() throws IOException {
    List<Path> photographs =
        SharedFiles.filesBelow(SharedFiles.folder("photos")).stream()
            .filter(file -> FrameName.of(file.getFileName().toString()).isPresent())
            // Of a format that has no end mark known here.
            .filter(file -> !file.toString().endsWith(".crw"))
            .toList();
    assertTrue(photographs.size() >= 35, photographs.size() + " photographs");
    return photographs;
  }
}
