package org.scenespan.light;

import java.util.Locale;

/**
 * Light that one recognises by eye, and the EV at ISO 100 that it usually meters (ANSI PH2.7, as
 * quoted in the trade; a range where it gives one).
 */
public enum Lighting {
  SUNLIT_SNOW(16, 16, "sunlit snow or sand"),
  SUN(15, 15, "front-lit by the sun"),
  SIDE_LIT(14, 14, "side-lit by the sun"),
  BACKLIT(13, 13, "back-lit by the sun"),
  HAZY_SUN(14, 14, "hazy sun"),
  CLOUDY_BRIGHT(13, 13, "cloudy but bright"),
  OVERCAST(12, 12, "heavy overcast"),
  OPEN_SHADE(12, 12, "open shade"),
  SKY_BEFORE_SUNSET(12, 14, "the sky just before sunset"),
  SKY_AT_SUNSET(12, 12, "the sky at sunset"),
  SKY_AFTER_SUNSET(9, 11, "the sky just after sunset"),
  BRIGHT_STREET(7, 8, "a bright street at night"),
  HOME_INTERIOR(5, 7, "a home's interior"),
  FLOODLIT_BUILDING(3, 5, "a floodlit building"),
  FULL_MOON(-3, -2, "a landscape by full moon");

  private final double from;
  private final double to;
  private final String words;

  Lighting(double from, double to, String words) {
    this.from = from;
    this.to = to;
    this.words = words;
  }

  public Ev from() {
    return new Ev(from);
  }

  public Ev to() {
    return new Ev(to);
  }

  /** The middle of the range. */
  public Ev ev() {
    return new Ev((from + to) / 2);
  }

  public String words() {
    return words;
  }

  /** As it is written on a command line: {@code open-shade}. */
  public String label() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  public static Lighting parse(String text) {
    String wanted = text.strip().toLowerCase(Locale.ROOT);
    StringBuilder labels = new StringBuilder();
    for (Lighting lighting : values()) {
      if (lighting.label().equals(wanted)) {
        return lighting;
      }
      labels.append(labels.isEmpty() ? "" : ", ").append(lighting.label());
    }
    throw new IllegalArgumentException("light \"" + text + "\" must be one of " + labels);
  }
}
