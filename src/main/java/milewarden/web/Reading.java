package milewarden.web;

import io.javalin.config.JavalinConfig;
import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.SameSite;
import java.time.Duration;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.report.Digits;
import milewarden.report.page.settings.ReadingChoice;
import milewarden.units.UnitChoice;

/**
 * In which units, numerals and dates a page is read: as its reader chose, which the browser keeps,
 * else as configured; numbers and times as programs write them where the page is asked for as data.
 *
 * <p>Holds for the request under way on its own thread.
 */
public final class Reading implements Routes {
  private static final String UNITS = "milewarden-units";
  private static final String MEASURES = "milewarden.measures";
  private static final String LOCALE = "milewarden-locale";
  private static final int KEPT_S = Math.toIntExact(Duration.ofDays(365).toSeconds());
  // Those whose digits are 0 to 9; the words of the pages are English in all of them.
  private static final List<String> TAGS =
      List.of(
          "en-GB", "en-US", "en-CA", "cs-CZ", "da-DK", "de-DE", "de-CH", "es-ES", "fi-FI", "fr-FR",
          "it-IT", "ja-JP", "nb-NO", "nl-NL", "pl-PL", "pt-BR", "pt-PT", "sv-SE");

  private final Digits usual;
  private final ThreadLocal<Digits> asked = new ThreadLocal<>();

  /**
   * @param usual for readers who chose nothing
   */
  public Reading(Digits usual) {
    this.usual = usual;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.before(this::ask);
    config.routes.after(http -> asked.remove());
    config.routes.post("/settings/reading", this::choose);
  }

  /** Digits for the reader of the request under way. */
  public Digits digits() {
    Digits now = asked.get();
    return now == null ? usual : now;
  }

  /** True where the reader of the request under way chose nothing else. */
  public boolean isUsual() {
    return digits().equals(usual);
  }

  private void ask(Context http) {
    Digits now = of(http);
    asked.set(now);
    http.attribute(MEASURES, Frame.Measures.of(now.units(), now.locale().toLanguageTag()));
  }

  /** In which units the page under way is drawn; the frame's own where nobody asked. */
  static Frame.Measures measures(Context http, Frame frame) {
    Frame.Measures asked = http.attribute(MEASURES);
    return asked == null ? frame.measures() : asked;
  }

  private Digits of(Context http) {
    UnitChoice units =
        Optional.ofNullable(http.queryParam("units"))
            .flatMap(UnitChoice::of)
            .or(() -> Optional.ofNullable(http.cookie(UNITS)).flatMap(UnitChoice::of))
            .orElse(usual.units());
    Locale locale =
        Optional.ofNullable(http.queryParam("locale"))
            .filter(TAGS::contains)
            .or(() -> Optional.ofNullable(http.cookie(LOCALE)).filter(TAGS::contains))
            .map(Locale::forLanguageTag)
            .orElse(usual.locale());
    Digits reader = usual.forReader(units, locale);
    return PageData.isAsked(http) ? reader.forPrograms() : reader;
  }

  /** True where numbers can be written so. */
  public boolean knows(String tag) {
    return TAGS.contains(tag) || tag.equals(usual.locale().toLanguageTag());
  }

  private static String words(UnitChoice units) {
    return switch (units) {
      case METRIC -> "kilometres, metres, min/km";
      case IMPERIAL -> "miles, feet, min/mile";
    };
  }

  /** What there is to choose. */
  public ReadingChoice choice() {
    Digits now = digits();
    String tag = now.locale().toLanguageTag();
    return new ReadingChoice(
        Arrays.stream(UnitChoice.values())
            .map(u -> new ReadingChoice.Option(u.code(), words(u), u == now.units()))
            .toList(),
        Stream.concat(TAGS.stream(), Stream.of(tag))
            .distinct()
            .map(t -> new ReadingChoice.Option(t, words(t), t.equals(tag)))
            .toList(),
        ReadingChoice.sample(now));
  }

  private static String words(String tag) {
    return Locale.forLanguageTag(tag).getDisplayName(Locale.ENGLISH);
  }

  private void choose(Context http) {
    UnitChoice units =
        UnitChoice.of(formText(http, "units"))
            .orElseThrow(() -> new BadRequestResponse("The form lacks its units."));
    String tag = formText(http, "locale");
    if (!knows(tag)) throw new BadRequestResponse("The form lacks a known way to write numbers.");
    http.cookie(kept(UNITS, units.code()));
    http.cookie(kept(LOCALE, tag));
    http.redirect("/settings?done=reading#reading");
  }

  private static String formText(Context http, String name) {
    String text = http.formParam(name);
    return text == null ? "" : text;
  }

  private static Cookie kept(String name, String value) {
    return new Cookie(name, value, "/", KEPT_S, false, true, null, SameSite.LAX);
  }
}
