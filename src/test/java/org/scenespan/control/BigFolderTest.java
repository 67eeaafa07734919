package org.scenespan.control;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.scenespan.frame.NoiseModel;
import org.scenespan.journal.Sessions;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.PictureLimits;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.Known;
import org.scenespan.rehearsal.Faults;
import org.scenespan.rehearsal.RigSettings;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SimulatedRig;
import org.scenespan.session.BracketSetup;
import org.scenespan.session.Event;
import org.scenespan.session.Gear;
import org.scenespan.session.Patience;
import org.scenespan.session.State;
import org.scenespan.session.Stopped;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.Profiles;

/** A hot folder that holds a year's pictures when the session begins. */
@Timeout(60)
class BigFolderTest {
  private static final int OLD_FILES = 50_000;

  @Test
  void oldFilesAreNoFrames() throws IOException {
    FileSystem disk = Jimfs.newFileSystem(Configuration.unix());
    Path directory = new Sessions(disk.getPath("/sessions")).create("big");
    Path frames = Files.createDirectory(directory.resolve("frames"));
    for (int i = 0; i < OLD_FILES; i++) {
      Files.createFile(frames.resolve("OLD_" + i + ".JPG"));
    }
    Profile profile = new Profiles(Optional.empty()).load("reference-trigger");
    Scene scene =
        Scene.load(SmallScene.write(disk.getPath("/s.hdr"), new SplittableRandom(1)), new Ev(12));
    BracketSetup setup =
        new BracketSetup(
            "big",
            "test",
            new Gear(
                "reference-trigger",
                "",
                "frames",
                false,
                Optional.of(new Gear.Rehearsal("small", new Ev(12), 1))),
            BracketGoal.USUAL,
            profile.cameraRange(),
            PictureLimits.at(Aperture.parse("f/8")),
            NoiseModel.TYPICAL,
            Optional.empty(),
            Known.NOTHING,
            Patience.USUAL);
    Workbench bench = Workbench.fresh(directory, profile, setup);
    SimulatedRig rig = new SimulatedRig(RigSettings.TYPICAL, scene, frames, Faults.NONE);
    State end = new VirtualRun(bench, rig, any -> {}, OpenedSession.VIRTUAL_START).run();
    bench.journal().close();
    assertEquals(Stopped.COVERED, end.report().map(Event.Report::stopped).orElseThrow());
    assertEquals(end.frames().size(), end.seen().size(), "not one of the old files was looked at");
  }
}
