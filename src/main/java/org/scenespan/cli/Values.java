package org.scenespan.cli;

import java.time.DateTimeException;
import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Locale;
import org.scenespan.light.Aperture;
import org.scenespan.light.Distance;
import org.scenespan.light.Ev;
import org.scenespan.light.FocalLength;
import org.scenespan.light.Iso;
import org.scenespan.light.Lighting;
import org.scenespan.light.NeutralDensity;
import org.scenespan.light.Share;
import org.scenespan.light.Shutter;
import org.scenespan.light.Speed;
import org.scenespan.light.Stops;
import org.scenespan.plan.guard.Levels;
import org.scenespan.session.RigCheck;
import org.scenespan.sky.Place;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.TypeConversionException;

/** Values as a photographer writes them. */
final class Values {
  private Values() {}

  private interface Parser<T> {
    T parse(String text);
  }

  private static <T> T told(Parser<T> parser, String text) {
    try {
      return parser.parse(text);
    } catch (IllegalArgumentException wrong) {
      throw new TypeConversionException(wrong.getMessage());
    }
  }

  private static double number(String text, String what) {
    try {
      double value = Double.parseDouble(text.strip());
      if (Double.isFinite(value)) {
        return value;
      }
    } catch (NumberFormatException notANumber) {
      // Told below.
    }
    throw new TypeConversionException("\"" + text + "\" is not " + what);
  }

  static final class ShutterValue implements ITypeConverter<Shutter> {
    @Override
    public Shutter convert(String text) {
      return told(Shutter::parse, text);
    }
  }

  static final class ApertureValue implements ITypeConverter<Aperture> {
    @Override
    public Aperture convert(String text) {
      return told(Aperture::parse, text);
    }
  }

  static final class IsoValue implements ITypeConverter<Iso> {
    @Override
    public Iso convert(String text) {
      return told(Iso::parse, text);
    }
  }

  static final class RigCheckValue implements ITypeConverter<RigCheck> {
    @Override
    public RigCheck convert(String text) {
      return told(RigCheck::parse, text);
    }
  }

  static final class ShareValue implements ITypeConverter<Share> {
    @Override
    public Share convert(String text) {
      return told(Share::parse, text);
    }
  }

  static final class EvValue implements ITypeConverter<Ev> {
    @Override
    public Ev convert(String text) {
      return new Ev(number(text, "an EV such as 12 or -2.5"));
    }
  }

  static final class StopsValue implements ITypeConverter<Stops> {
    @Override
    public Stops convert(String text) {
      return new Stops(number(text, "a number of stops such as 0.33"));
    }
  }

  static final class DistanceValue implements ITypeConverter<Distance> {
    @Override
    public Distance convert(String text) {
      return told(Distance::parse, text);
    }
  }

  static final class FocalLengthValue implements ITypeConverter<FocalLength> {
    @Override
    public FocalLength convert(String text) {
      return told(FocalLength::parse, text);
    }
  }

  static final class SpeedValue implements ITypeConverter<Speed> {
    @Override
    public Speed convert(String text) {
      return told(Speed::parse, text);
    }
  }

  static final class NeutralDensityValue implements ITypeConverter<NeutralDensity> {
    @Override
    public NeutralDensity convert(String text) {
      return told(NeutralDensity::parse, text);
    }
  }

  static final class LightingValue implements ITypeConverter<Lighting> {
    @Override
    public Lighting convert(String text) {
      return told(Lighting::parse, text);
    }
  }

  static final class PlaceValue implements ITypeConverter<Place> {
    @Override
    public Place convert(String text) {
      return told(Place::parse, text);
    }
  }

  static final class DateValue implements ITypeConverter<LocalDate> {
    @Override
    public LocalDate convert(String text) {
      try {
        return LocalDate.parse(text.strip());
      } catch (DateTimeException wrong) {
        throw new TypeConversionException("\"" + text + "\" is not a date such as 2026-06-01");
      }
    }
  }

  static final class TimeValue implements ITypeConverter<LocalTime> {
    @Override
    public LocalTime convert(String text) {
      try {
        return LocalTime.parse(text.strip());
      } catch (DateTimeException wrong) {
        throw new TypeConversionException("\"" + text + "\" is not a time of day such as 04:30");
      }
    }
  }

  static final class ZoneValue implements ITypeConverter<ZoneId> {
    @Override
    public ZoneId convert(String text) {
      try {
        return ZoneId.of(text.strip());
      } catch (DateTimeException wrong) {
        throw new TypeConversionException(
            "\"" + text + "\" is not a time zone such as Europe/Zurich or +02:00");
      }
    }
  }

  /** {@code 10s}, {@code 1m30s}, {@code 2h}, {@code 500ms}. */
  static final class DurationValue implements ITypeConverter<Duration> {
    @Override
    public Duration convert(String text) {
      String body = text.strip().toLowerCase(Locale.ROOT);
      if (body.matches("\\d+ms")) {
        return Duration.ofMillis(Long.parseLong(body.substring(0, body.length() - 2)));
      }
      if (body.matches("(\\d{1,6}h)?(\\d{1,6}m)?(\\d{1,6}(\\.\\d{1,3})?s)?") && !body.isEmpty()) {
        return Duration.parse("PT" + body.toUpperCase(Locale.ROOT));
      }
      throw new TypeConversionException("\"" + text + "\" is not a duration such as 10s or 1m30s");
    }
  }

  /** {@code 0.1,0.2} or {@code 2%,4%}: where to warn and where to raise the alarm. */
  static final class LevelsValue implements ITypeConverter<Levels.Pair> {
    @Override
    public Levels.Pair convert(String text) {
      String[] parts = text.split(",", -1);
      if (parts.length != 2) {
        throw new TypeConversionException(
            "\"" + text + "\" is not a pair of levels such as 0.1,0.2");
      }
      return told(both -> new Levels.Pair(level(parts[0]), level(parts[1])), text);
    }

    private static double level(String text) {
      return text.contains("%")
          ? told(Share::parse, text).value()
          : number(text, "a level such as 0.1 or 2%");
    }
  }
}
