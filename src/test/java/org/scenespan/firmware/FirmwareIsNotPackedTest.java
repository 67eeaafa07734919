package org.scenespan.firmware;

import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import org.junit.jupiter.api.Test;
import org.scenespan.trigger.Profiles;

class FirmwareIsNotPackedTest {
  @Test
  void theFirmwareLiesBesideTheProfilesAndStaysOutOfTheJar() {
    assertTrue(Files.exists(Firmware.core()));
    assertNotNull(Profiles.class.getResource("/device-profiles/reference-trigger.json"));
    assertNull(Profiles.class.getResource("/device-profiles/reference-trigger"));
  }
}
