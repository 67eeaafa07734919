package org.scenespan.firmware;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.Needs;

/** The board files compile with the cross compilers, and fit with room to spare. */
@Timeout(120)
class FirmwareBoardsIT {
  private static final Pattern SIZES =
      Pattern.compile("(?m)^\\s*(\\d+)\\s+(\\d+)\\s+(\\d+)\\s+\\d+\\s+[0-9a-f]+\\s");

  @TempDir Path folder;

  private static void requireRoom(String size, Path program, long flash, long ram)
      throws IOException, InterruptedException {
    String said = Firmware.run(List.of(Needs.tool("boards", size).toString(), program.toString()));
    Matcher sizes = SIZES.matcher(said);
    assertTrue(sizes.find(), said);
    long text = Long.parseLong(sizes.group(1));
    long data = Long.parseLong(sizes.group(2));
    long bss = Long.parseLong(sizes.group(3));
    assertTrue(text > 1000 && text + data <= flash, said);
    assertTrue(data + bss <= ram, said);
  }

  /** A quarter of 32 KB of flash; of 2 KB of RAM half a kilobyte is left for the stack. */
  @Test
  void eightBits() throws Exception {
    requireRoom("avr-size", Firmware.eightBits(folder), 8 * 1024, 2048 - 512);
  }

  /** An eighth of 64 KB of flash; of 8 KB of RAM a quarter. */
  @Test
  void thirtyTwoBits() throws Exception {
    requireRoom("arm-none-eabi-size", Firmware.thirtyTwoBits(folder), 8 * 1024, 2 * 1024);
  }
}
