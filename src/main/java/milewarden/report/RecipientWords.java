package milewarden.report;

import java.time.LocalTime;
import java.time.format.DateTimeFormatter;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import milewarden.recipient.QuietHours;
import milewarden.recipient.Recipient;
import milewarden.units.UnitChoice;
import milewarden.verdict.DueItem;

/** What a receiver chose, in words. */
public final class RecipientWords {
  private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

  private RecipientWords() {}

  /** Of what they are told. */
  public static String what(Recipient r) {
    String models = r.models().isEmpty() ? "all models" : String.join(", ", r.modelsInOrder());
    List<DueItem.Severity> all = Arrays.asList(DueItem.Severity.values());
    String severities =
        r.severities().size() == all.size()
            ? "everything"
            : all.stream()
                .filter(r.severities()::contains)
                .map(RecipientWords::of)
                .collect(Collectors.joining(", "));
    return Words.capital(severities)
        + "; "
        + models
        + r.units().map(u -> u == UnitChoice.METRIC ? "; in kilometres" : "; in miles").orElse("");
  }

  /** A severity as it stands beside its box. */
  public static String of(DueItem.Severity severity) {
    return switch (severity) {
      case VERDICT_WRONG -> "verdict wrong in public";
      case REGRESSION -> "regression";
      case STALE -> "retest due, or verdict grown stale";
      case HOUSEKEEPING -> "housekeeping";
    };
  }

  /** At once or when. */
  public static String when(Recipient r) {
    String when =
        switch (r.delivery()) {
          case IMMEDIATE -> "At once";
          case DAILY_DIGEST -> "Daily digest at " + time(r.digestAt()) + ", " + r.zone().getId();
        };
    String quiet =
        r.quiet()
            .map(q -> "; quiet from " + time(q.from()) + " to " + time(q.to()) + zone(r, q))
            .orElse("");
    boolean may =
        r.wrongVerdictAtOnce()
            && (r.quiet().isPresent() || r.delivery() == Recipient.Delivery.DAILY_DIGEST);
    return when + quiet + (may ? "; a verdict that is wrong in public comes at once" : "");
  }

  private static String zone(Recipient r, QuietHours q) {
    return r.delivery() == Recipient.Delivery.IMMEDIATE ? ", " + q.zone().getId() : "";
  }

  /** {@code 07:00} */
  public static String time(LocalTime time) {
    return TIME.format(time);
  }
}
