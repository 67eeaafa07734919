package org.scenespan.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.scenespan.control.Emulator;
import org.scenespan.light.Ev;
import org.scenespan.trigger.SerialPorts;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Triggers and the ports they hang on. */
@Command(
    name = "devices",
    mixinStandardHelpOptions = true,
    subcommands = {CheckCommand.class, LearnCommand.class},
    description = {
      "Serial ports, device profiles, a dry test of a trigger, and a simulated one.",
      "",
      "Isolate the camera's release contacts from the serial adapter (an optocoupler); never drive"
          + " them with a voltage."
    },
    footerHeading = "%nExample:%n",
    footer = "  scenespan devices list")
final class DevicesCommand implements Runnable {
  @Spec private CommandSpec spec;

  @Override
  public void run() {
    spec.commandLine().usage(spec.commandLine().getOut());
  }

  @Command(
      name = "list",
      mixinStandardHelpOptions = true,
      description = "List the serial ports of this machine and the device profiles.",
      footerHeading = "%nExample:%n",
      footer = "  scenespan devices list")
  int list(@Mixin Places places) throws IOException {
    PrintWriter out = spec.commandLine().getOut();
    List<SerialPorts.Found> ports = SerialPorts.list();
    out.println("Serial ports:");
    if (ports.isEmpty()) {
      out.println("  none; plug the adapter in and look again");
    }
    ports.forEach(port -> out.println("  " + port.path() + "  " + port.description()));
    out.println("Device profiles:");
    for (String name : places.profiles().names()) {
      out.println("  " + name + "  " + described(places, name));
    }
    out.flush();
    return ExitCode.DONE;
  }

  private static String described(Places places, String name) {
    try {
      return places.profiles().load(name).description();
    } catch (IllegalArgumentException wrong) {
      return "(wrong: " + wrong.getMessage() + ")";
    }
  }

  @Command(
      name = "emulate",
      mixinStandardHelpOptions = true,
      description =
          "Offer the simulated trigger, with a simulated camera behind it, on a pseudo-terminal"
              + " of its own or on standard input and output, so that the serial edge can be"
              + " tried against it.",
      footerHeading = "%nExamples:%n",
      footer = {
        "  scenespan devices emulate --folder frames",
        "  scenespan devices emulate --folder frames --simulate window --stdio"
      })
  int emulate(
      @Option(
              names = "--folder",
              paramLabel = "DIR",
              required = true,
              description = "Where the simulated camera writes its frames.")
          Path folder,
      @Option(
              names = "--simulate",
              paramLabel = "SCENE",
              defaultValue = "ridge",
              description = "A bundled scene or a Radiance .hdr file (${DEFAULT-VALUE}).")
          String scene,
      @Option(
              names = "--scene-ev",
              paramLabel = "EV",
              defaultValue = "12",
              converter = Values.EvValue.class,
              description = "Where its log-average luminance stands (${DEFAULT-VALUE}).")
          Ev sceneEv,
      @Option(
              names = "--seed",
              paramLabel = "N",
              defaultValue = "1",
              description = "The camera's chance (${DEFAULT-VALUE}).")
          long seed,
      @Option(names = "--raw", description = "Write a DNG beside each JPEG.") boolean raw,
      @Option(
              names = "--for",
              paramLabel = "TIME",
              converter = Values.DurationValue.class,
              description = "End by itself after this long. Default: when interrupted.")
          Duration longest,
      @Option(
              names = "--stdio",
              description = "Speak on standard input and output instead of a pseudo-terminal.")
          boolean stdio)
      throws IOException, InterruptedException {
    if (!Files.isDirectory(folder)) {
      throw new IllegalArgumentException(
          "folder \"" + folder + "\" does not exist or is no directory; create it first");
    }
    Emulator emulator = new Emulator(scene, sceneEv, seed, raw, folder);
    Optional<Duration> limit = Optional.ofNullable(longest);
    if (stdio) {
      emulator.serve(System.in, System.out, limit);
      return ExitCode.DONE;
    }
    PrintWriter out = spec.commandLine().getOut();
    emulator.serveTerminal(
        limit,
        port -> {
          out.println("Port: " + port);
          out.println(
              "Try: scenespan bracket --trigger reference-trigger --port "
                  + port
                  + " --folder "
                  + folder);
          out.println("Ends with Ctrl-C.");
          out.flush();
        });
    return ExitCode.DONE;
  }
}
