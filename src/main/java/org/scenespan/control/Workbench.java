package org.scenespan.control;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import org.scenespan.folder.EarlierFrames;
import org.scenespan.folder.FolderScan;
import org.scenespan.folder.FrameReader;
import org.scenespan.folder.HotFolder;
import org.scenespan.folder.Measure;
import org.scenespan.folder.Pairing;
import org.scenespan.folder.PreviewStore;
import org.scenespan.folder.ReferenceDesk;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.NoiseModel;
import org.scenespan.journal.Journal;
import org.scenespan.journal.Sessions;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;
import org.scenespan.rehearsal.BrokenCloud;
import org.scenespan.rehearsal.Faults;
import org.scenespan.rehearsal.LightCurve;
import org.scenespan.rehearsal.LightScatter;
import org.scenespan.rehearsal.MovingLight;
import org.scenespan.rehearsal.OwnExposure;
import org.scenespan.rehearsal.Rendering;
import org.scenespan.rehearsal.RigSettings;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SimulatedRig;
import org.scenespan.session.BracketSetup;
import org.scenespan.session.Gear;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.Setup;
import org.scenespan.session.State;
import org.scenespan.session.TetherSetup;
import org.scenespan.trigger.Profile;

/**
 * One session's parts on the table: its directory and journal, and what its gear is made of.
 *
 * @param directory the session's own
 * @param journal open for appending
 * @param profile the trigger's; absent of a session without a trigger
 * @param state what the journal says so far; empty for a new session
 * @param setup what it was started with
 * @param known names in the hot folder that are not this session's frames
 * @param desk where frames are held against a reference frame
 */
record Workbench(
    Path directory,
    Journal journal,
    Optional<Profile> profile,
    State state,
    Setup setup,
    Set<String> known,
    ReferenceDesk desk) {
  /** What a rehearsed camera brackets by itself. */
  private static final int STEPS = 3;

  private static final Stops OWN_STEP = new Stops(2);
  private static final String CAMERA = "camera-profile.json";

  /** Lays out a new session: nothing has been decided yet, and the folder's old files are noted. */
  static Workbench fresh(Path directory, Optional<Profile> profile, Setup setup)
      throws IOException {
    Set<String> known = HotFolder.names(folder(directory, setup.gear()));
    Sessions.writeBefore(directory, known);
    return new Workbench(
        directory,
        Journal.create(directory),
        profile,
        State.EMPTY,
        setup,
        known,
        new ReferenceDesk());
  }

  /**
   * Lays out an unfinished session again.
   *
   * @param state what its journal leads to; it is not closed
   */
  static Workbench again(Path directory, Optional<Profile> profile, State state)
      throws IOException {
    Set<String> known = new HashSet<>(Sessions.readBefore(directory));
    known.addAll(state.seen());
    known.addAll(state.lapse().files().list());
    state.lapse().doubted().forEach(waiting -> known.add(waiting.frame().frame().file()));
    return new Workbench(
        directory,
        Journal.reopen(directory),
        profile,
        state,
        state.opened(),
        known,
        new ReferenceDesk());
  }

  Path folder() {
    return folder(directory, setup.gear());
  }

  /** The hot folder; a simulated camera's own is in the session's directory. */
  static Path folder(Path directory, Gear gear) {
    return directory.resolve(gear.folder());
  }

  FolderScan scan(Duration quiet) {
    Measure measure =
        !setup.gear().raw()
            ? Measure.JPEG
            : setup.gear().jpegFirst() ? Measure.JPEG_THEN_RAW : Measure.RAW;
    HotFolder hot = new HotFolder(folder(), known, quiet);
    return new FolderScan(
        setup instanceof LapseSetup ? hot.sparing() : hot,
        new Pairing(measure, Pairing.WAIT),
        new FrameReader(camera(directory)),
        Optional.of(new PreviewStore(Sessions.previews(directory))),
        setup instanceof BracketSetup ? Optional.of(new EarlierFrames(noise())) : Optional.empty(),
        setup instanceof TetherSetup ? Optional.of(desk) : Optional.empty(),
        setup instanceof LapseSetup lapse ? Optional.of(lapse.region()) : Optional.empty());
  }

  private NoiseModel noise() {
    return setup instanceof BracketSetup bracket ? bracket.noise() : NoiseModel.TYPICAL;
  }

  /** The camera's measurement that a session was started with; it is kept beside the journal. */
  static Optional<CameraProfile> camera(Path directory) {
    Path kept = directory.resolve(CAMERA);
    return Files.exists(kept) ? Optional.of(CameraProfiles.read(kept)) : Optional.empty();
  }

  /** Keeps a camera's measurement for the session, before it begins. */
  static void keepCamera(Path directory, CameraProfile camera) throws IOException {
    CameraProfiles.save(camera, directory.resolve(CAMERA));
  }

  /** The simulated camera and trigger of a rehearsal. */
  SimulatedRig rehearsal(Faults faults) throws IOException {
    Gear.Rehearsal rehearsal = setup.gear().rehearsal().orElseThrow();
    RigSettings settings =
        RigSettings.TYPICAL
            .withSeed(rehearsal.seed())
            .withRaw(setup.gear().raw())
            .withRendering(rehearsal.toneMapped() ? Rendering.TONED : Rendering.PLAIN)
            .withDrift(rehearsal.drift());
    Files.createDirectories(folder());
    return new SimulatedRig(
        setup.gear().own().map(own -> settings.withOwn(played(own))).orElse(settings),
        rehearsal.light().isPresent()
            ? Scene.dawn(rehearsal.sceneEv())
            : scene(rehearsal.scene(), rehearsal.sceneEv()),
        folder(),
        faults,
        rehearsal.light().map(light -> moving(light, rehearsal.seed())));
  }

  /** The light of a lapse's scene; of one that is resumed it goes on where it was. */
  private MovingLight moving(Gear.Light light, long seed) {
    LightCurve curve = curve(light);
    return new MovingLight(
        light.clouds() ? curve.under(BrokenCloud.of(seed)) : curve,
        new LightScatter(seed, light.lens(), Stops.ZERO),
        state.lapse().start());
  }

  /**
   * How a simulated scene's light goes.
   *
   * @throws IllegalArgumentException if its table cannot be read
   */
  static LightCurve curve(Gear.Light light) {
    return light
        .table()
        .map(table -> (LightCurve) LightCurve.read(Path.of(table)))
        .orElseGet(
            () -> {
              LapseSetup.Sky sky = light.sky().orElseThrow();
              return LightCurve.clearSky(sky.at(), sky.from().orElseThrow());
            });
  }

  /** A camera that steps through a bracket of its own, or takes all of it at each release. */
  private static OwnExposure played(Gear.Own own) {
    int frames = own.framesPerRelease();
    return OwnExposure.around(frames == 1 ? STEPS : frames, OWN_STEP, frames > 1);
  }

  /**
   * A bundled scene's name, or else a Radiance file.
   *
   * @throws IllegalArgumentException if it is neither
   */
  static Scene scene(String name, Ev ev) {
    return Scene.names().contains(name) ? Scene.bundled(name, ev) : Scene.load(Path.of(name), ev);
  }
}
