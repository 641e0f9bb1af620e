package milewarden.web.api;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.report.AdviceWords;
import milewarden.report.Digits;
import milewarden.report.DueWords;
import milewarden.report.Words;
import milewarden.report.answer.AtomFeed;
import milewarden.report.answer.DueCalendar;
import milewarden.store.Database;
import milewarden.store.Tx;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Verdicts;
import milewarden.verdict.DueItem;
import milewarden.verdict.Policy;

/** Alerts and verdicts for feed readers, due dates for calendars. */
final class News {
  private static final int MOST = 100;

  private final Database database;
  private final Digits digits;
  private final Policy policy;
  private final Optional<URI> publicUrl;

  /**
   * @param publicUrl the address in links; the one that was asked where empty
   */
  News(Database database, Digits digits, Policy policy, Optional<URI> publicUrl) {
    this.database = database;
    this.digits = digits;
    this.policy = policy;
    this.publicUrl = publicUrl;
  }

  void add(JavalinConfig config, String under) {
    config.routes.get(under + "/feed.atom", this::feed);
    config.routes.get(under + "/due.ics", this::calendar);
  }

  private String base(Context http) {
    String text = publicUrl.map(URI::toString).orElseGet(() -> http.scheme() + "://" + http.host());
    return text.endsWith("/") ? text.substring(0, text.length() - 1) : text;
  }

  private static void answer(Context http, String type, String text) {
    http.result(text.getBytes(StandardCharsets.UTF_8));
    http.contentType(type);
    http.header("Cache-Control", "no-cache");
  }

  private void feed(Context http) {
    String base = base(http);
    List<AtomFeed.Entry> entries =
        database.read(
            tx ->
                Stream.concat(alerts(tx, base), verdicts(tx, base))
                    .sorted(Comparator.comparing(AtomFeed.Entry::updated).reversed())
                    .limit(MOST)
                    .toList());
    // Nothing happened yet: the feed is as old as time is counted, and stays the same.
    Instant updated =
        entries.stream().map(AtomFeed.Entry::updated).findFirst().orElse(Instant.EPOCH);
    AtomFeed feed =
        new AtomFeed(
            "Milewarden: alerts and verdicts", base + "/api/v1/feed.atom", updated, entries);
    answer(http, "application/atom+xml;charset=utf-8", feed.xml());
  }

  private Stream<AtomFeed.Entry> alerts(Tx tx, String base) {
    return Stream.concat(DueItems.open(tx).stream(), DueItems.closed(tx, MOST).stream())
        .filter(d -> d.toldAt().isPresent())
        .map(
            d ->
                new AtomFeed.Entry(
                    name(d),
                    (d.closed().isPresent() ? "Closed: " : "") + title(d),
                    d.toldAt().orElseThrow(),
                    d.closed().map(DueItems.Closing::at).or(d::toldAt).orElseThrow(),
                    text(d),
                    d.item().severity().code(),
                    base + "/due#due-" + d.id().value()));
  }

  private static Stream<AtomFeed.Entry> verdicts(Tx tx, String base) {
    return Verdicts.lines(tx).stream()
        .map(
            v ->
                new AtomFeed.Entry(
                    name(v),
                    (v.withdrawn().isPresent() ? "Withdrawn: " : "")
                        + "verdict "
                        + v.number()
                        + " on "
                        + v.modelName()
                        + ", firmware "
                        + v.firmware(),
                    v.publishedAt(),
                    v.withdrawn().map(Verdicts.Withdrawn::at).orElse(v.publishedAt()),
                    v.words(),
                    "verdict",
                    link(v, base)));
  }

  private static String link(Verdicts.Line v, String base) {
    return base + "/verdicts/" + v.model().value() + "/" + v.number();
  }

  // With the moment in it no two installations give one name to two things.
  private static String name(DueItems.Due d) {
    return "milewarden/due/" + d.id().value() + "/" + d.raisedAt() + "/" + d.item().key();
  }

  private static String name(Verdicts.Line v) {
    return "milewarden/verdict/" + v.id().value() + "/" + v.publishedAt();
  }

  private String title(DueItems.Due d) {
    return plain(Words.capital(DueWords.title(d.item(), digits)));
  }

  private String text(DueItems.Due d) {
    return plain(
        DueWords.sentence(d.item(), digits)
            + "\n"
            + String.join(" ", AdviceWords.of(d.item(), digits)));
  }

  private static String plain(String text) {
    return text.replace('\u00a0', ' ');
  }

  private void calendar(Context http) {
    String base = base(http);
    DueCalendar calendar = database.read(tx -> calendar(tx, base));
    answer(http, "text/calendar;charset=utf-8", calendar.text());
  }

  private DueCalendar calendar(Tx tx, String base) {
    List<DueCalendar.Task> tasks = new ArrayList<>();
    List<DueCalendar.Day> days = new ArrayList<>();
    for (DueItems.Due d : DueItems.open(tx)) {
      String link = base + "/due#due-" + d.id().value();
      tasks.add(
          new DueCalendar.Task(
              name(d),
              d.raisedAt(),
              title(d),
              text(d),
              d.item().severity().code(),
              priority(d.item().severity()),
              staleOn(d),
              link));
      d.snoozedUntil()
          .ifPresent(
              until ->
                  days.add(
                      new DueCalendar.Day(
                          name(d) + "/again",
                          d.raisedAt(),
                          day(until),
                          "Told again: " + title(d),
                          text(d),
                          link)));
    }
    Verdicts.lines(tx).stream()
        .filter(Verdicts.Line::stands)
        .forEach(v -> days.add(oldOn(v, link(v, base))));
    return new DueCalendar(tasks, days);
  }

  // A retest that waits longer makes the verdict stale.
  private Optional<LocalDate> staleOn(DueItems.Due d) {
    return d.item().kind() == DueItem.Kind.RETEST_DUE
        ? Optional.of(day(d.raisedAt()).plusDays(policy.staleAfterDays()))
        : Optional.empty();
  }

  private DueCalendar.Day oldOn(Verdicts.Line v, String link) {
    LocalDate day = day(v.publishedAt()).plusMonths(policy.verdictMonths());
    return new DueCalendar.Day(
        name(v) + "/old",
        v.publishedAt(),
        day,
        "Verdict grows stale: " + v.modelName() + ", firmware " + v.firmware(),
        "Published on "
            + digits.date(v.publishedAt())
            + "; from this day on it is stale where no newer one stands.",
        link);
  }

  private LocalDate day(Instant at) {
    return at.atZone(digits.zone()).toLocalDate();
  }

  // RFC 5545, section 3.8.1.9: 1 to 4 high, 5 medium, 6 to 9 low.
  private static int priority(DueItem.Severity severity) {
    return switch (severity) {
      case VERDICT_WRONG -> 1;
      case REGRESSION -> 3;
      case STALE -> 5;
      case HOUSEKEEPING -> 9;
    };
  }
}
