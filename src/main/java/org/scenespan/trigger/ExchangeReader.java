package org.scenespan.trigger;

import java.time.Duration;
import java.util.Optional;
import java.util.Set;

/** Reads a profile's commands with what comes back. */
final class ExchangeReader {
  static final int MAX_TIMEOUT_MILLIS = 600_000;
  static final int DEFAULT_TIMEOUT_MILLIS = 1_000;
  static final int MAX_RETRIES = 10;
  static final int DEFAULT_RETRIES = 2;
  static final int MAX_BEAT_MILLIS = 3_600_000;
  static final int LEAST_BEAT_MILLIS = 100;

  private static final Set<String> NONE = Set.of();

  private final boolean canCheckErrors;
  private final Profile.Form form;

  ExchangeReader(boolean canCheckErrors, Profile.Form form) {
    this.canCheckErrors = canCheckErrors;
    this.form = form;
  }

  Profile.Commands commands(ProfileFields fields) {
    Set<String> shot =
        form == Profile.Form.TEXT ? Template.SHOT_PARAMETERS : Template.WHOLE_PARAMETERS;
    Optional<Profile.Exchange> release = optional("release", fields, shot, Optional.empty());
    Optional<Profile.Exchange> close = optional("close", fields, shot, Optional.empty());
    requireReply(fields, "release", release, "nothing would tell that it was released");
    requireReply(fields, "close", close, "nothing would tell that the shutter is closed");
    return new Profile.Commands(
        optional("shutter", fields, shot, Optional.empty()),
        optional("iso", fields, shot, Optional.empty()),
        optional("aperture", fields, shot, Optional.empty()),
        optional("halfPress", fields, shot, Optional.empty()),
        optional("mirrorUp", fields, shot, Optional.empty()),
        release,
        optional("open", fields, shot, Optional.empty()),
        close);
  }

  private static void requireReply(
      ProfileFields fields, String name, Optional<Profile.Exchange> exchange, String why) {
    if (exchange.isPresent() && exchange.get().reply().isEmpty()) {
      throw fields.wrong(name + ".reply", "is missing: " + why);
    }
  }

  Optional<Profile.Exchange> optional(String name, ProfileFields parent, Optional<String> group) {
    return optional(name, parent, NONE, group);
  }

  private Optional<Profile.Exchange> optional(
      String name, ProfileFields parent, Set<String> parameters, Optional<String> group) {
    return parent.has(name)
        ? Optional.of(
            exchange(parent.child(name, ProfileReader.FIELDS.get("exchange")), parameters, group))
        : Optional.empty();
  }

  Profile.Exchange required(String name, ProfileFields parent, Optional<String> group) {
    return exchange(parent.child(name, ProfileReader.FIELDS.get("exchange")), NONE, group);
  }

  Profile.Heartbeat heartbeat(ProfileFields fields) {
    return new Profile.Heartbeat(
        Duration.ofMillis(fields.integer("everyMillis", LEAST_BEAT_MILLIS, MAX_BEAT_MILLIS)),
        new Profile.Exchange(
            fields.template("send", NONE, form),
            false,
            Optional.empty(),
            Optional.of(fields.pattern("reply", Optional.empty())),
            timeout(fields),
            retries(fields)));
  }

  private Profile.Exchange exchange(
      ProfileFields fields, Set<String> parameters, Optional<String> group) {
    Optional<String> query =
        fields.has("query")
            ? Optional.of(fields.template("query", parameters, form))
            : Optional.<String>empty();
    boolean needsReply = query.isPresent() || group.isPresent();
    Optional<ReplyPattern> reply =
        needsReply || fields.has("reply")
            ? Optional.of(fields.pattern("reply", group))
            : Optional.<ReplyPattern>empty();
    boolean checkErrors = fields.flag("checkErrors");
    if (checkErrors && !canCheckErrors) {
      throw fields.wrong("checkErrors", "needs the profile's errorQuery, which is missing");
    }
    return new Profile.Exchange(
        fields.template("send", parameters, form),
        checkErrors,
        query,
        reply,
        timeout(fields),
        retries(fields));
  }

  private static Duration timeout(ProfileFields fields) {
    return Duration.ofMillis(
        fields.integer("timeoutMillis", 1, MAX_TIMEOUT_MILLIS, DEFAULT_TIMEOUT_MILLIS));
  }

  private static int retries(ProfileFields fields) {
    return fields.integer("retries", 0, MAX_RETRIES, DEFAULT_RETRIES);
  }

  Profile.ErrorQuery errorQuery(ProfileFields fields) {
    return new Profile.ErrorQuery(
        fields.template("send", NONE, form), fields.pattern("reply", Optional.of("code")));
  }
}
