package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotSame;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.CodeTone;
import org.scenespan.frame.ColourSpace;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.ToneResponse;

class JpegTonesTest {
  private static FrameMetadata by(String camera) {
    return new FrameMetadata(
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        1,
        Optional.of(camera));
  }

  private static CameraProfile profile(String camera) {
    CameraProfile.Channel channel =
        new CameraProfile.Channel(ToneResponse.srgb(8), 0.01, 100, 2, 250, Optional.empty());
    return new CameraProfile(camera, 9, 8, List.of(channel, channel, channel));
  }

  @Test
  void theLastOneIsKept() {
    JpegTones tones = new JpegTones(Optional.empty());
    CodeTone first = tones.of(ColourSpace.ADOBE_RGB, FrameMetadata.NONE);
    assertEquals(ColourSpace.ADOBE_RGB, first.space());
    assertSame(first, tones.of(ColourSpace.ADOBE_RGB, by("Some camera")));
    CodeTone other = tones.of(ColourSpace.SRGB, FrameMetadata.NONE);
    assertEquals(ColourSpace.SRGB, other.space());
    assertEquals(ColourSpace.ASSUMED_SRGB, tones.of(ColourSpace.ASSUMED_SRGB, by("it")).space());
    assertNotSame(other, tones.of(ColourSpace.SRGB, FrameMetadata.NONE));
  }

  /** A picture by another camera between two of the measured one has not the measured response. */
  @Test
  void aMeasuredToneIsOnlyItsCamerasOwn() {
    JpegTones tones = new JpegTones(Optional.of(profile("Measured")));
    CodeTone own = tones.of(ColourSpace.SRGB, by("Measured"));
    assertTrue(own.measured());
    assertSame(own, tones.of(ColourSpace.SRGB, FrameMetadata.NONE));
    CodeTone other = tones.of(ColourSpace.SRGB, by("Another"));
    assertFalse(other.measured());
    assertTrue(tones.of(ColourSpace.SRGB, by("Measured")).measured());
    Colours colours = Colours.known(ColourSpace.SRGB);
    assertEquals(List.of(), tones.notes(colours, own, by("Measured")));
    assertEquals(
        List.of("It is by Another, the camera profile of Measured: its response is not taken."),
        tones.notes(colours, other, by("Another")));
  }
}
