package milewarden.report.page.model;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.report.Digits;
import milewarden.report.page.Strip;
import milewarden.report.pass.OriginWords;
import milewarden.verdict.Comparison;
import milewarden.verdict.place.DeviceDayCourse;
import milewarden.verdict.place.DifferenceStrip;
import milewarden.verdict.place.Origin;

/**
 * Where a difference comes from on one course: the strip, and what it supports.
 *
 * @param key of the strip among the page's charts
 * @param told a sentence for each thing that stands out
 * @param effects of the median polish, in its three factors
 */
public record OriginPart(
    String key,
    String heading,
    String sentence,
    String caption,
    Strip strip,
    List<String> told,
    String toldCaption,
    List<EffectRow> effects) {
  private static final String STRETCH = "stretch";
  // As a stored judgement names a stretch: whole metres of chainage.
  private static final Pattern METRES = Pattern.compile("(\\d+)-(\\d+)");

  public OriginPart {
    told = List.copyOf(told);
    effects = List.copyOf(effects);
  }

  /** The chart: a bar and a band for each 10 m. */
  public record Strip(double lengthM, List<Bin> bins) {
    public Strip {
      bins = List.copyOf(bins);
    }
  }

  /** A place with its difference in metres per lap. */
  public record Bin(
      double fromM,
      double toM,
      double differenceM,
      OptionalDouble low,
      OptionalDouble high,
      boolean apart,
      String place,
      String difference,
      String band,
      String words) {}

  /** An effect of the polish. */
  public record EffectRow(String factor, String level, String points) {}

  static List<OriginPart> of(List<Origin> origins, Comparison c, Digits digits) {
    List<OriginPart> parts = new ArrayList<>();
    for (Origin o : origins) parts.add(of("strip" + parts.size(), o, c, digits));
    return parts;
  }

  private static OriginPart of(String key, Origin o, Comparison c, Digits digits) {
    DeviceDayCourse told = o.told();
    return new OriginPart(
        key,
        "Where along " + o.course() + " the two releases differ",
        OriginWords.strip(o.strip(), c.candidate(), digits),
        OriginWords.caption(o.strip(), digits),
        new Strip(o.strip().lengthM(), o.strip().bins().stream().map(b -> bin(b, digits)).toList()),
        OriginWords.told(told, digits),
        "Median polish of the change since the baseline over devices, sessions and stretches, in"
            + " points of the length, the control units' middle at 0; "
            + digits.sessions(told.candidateSessions())
            + " against "
            + told.baselineSessions()
            + " with a control unit; what no effect explains scatters by "
            + digits.number(told.spread(), 2)
            + ".",
        effects(told, digits));
  }

  private static Bin bin(DifferenceStrip.Bin b, Digits digits) {
    String place = OriginWords.stretch(b.fromM(), b.toM(), digits);
    String difference = digits.changeFine(b.differenceM());
    String band =
        b.low().isPresent()
            ? digits.changeFine(b.low().getAsDouble())
                + " to "
                + digits.changeFine(b.high().getAsDouble())
            : "not known yet";
    return new Bin(
        b.fromM(),
        b.toM(),
        b.differenceM(),
        b.low(),
        b.high(),
        b.standsOut(),
        place,
        difference,
        band,
        place + "\n" + difference + "\n95 %: " + band);
  }

  static List<EffectRow> effects(DeviceDayCourse told, Digits digits) {
    List<EffectRow> rows = new ArrayList<>();
    if (told.devices().isEmpty()) return rows;
    rows.add(new EffectRow("all", "what every device shows", digits.points(told.common(), 2)));
    add(rows, "device", told.devices(), digits);
    add(rows, "session", told.sessions(), digits);
    add(rows, told.course().isPresent() ? STRETCH : "course", told.places(), digits);
    return rows;
  }

  private static void add(
      List<EffectRow> rows, String factor, List<DeviceDayCourse.Effect> effects, Digits digits) {
    for (DeviceDayCourse.Effect e : effects)
      rows.add(
          new EffectRow(
              factor,
              factor.equals(STRETCH) ? stretch(e.level(), digits) : e.level(),
              digits.points(e.points(), 2)));
  }

  private static String stretch(String level, Digits digits) {
    Matcher metres = METRES.matcher(level);
    return metres.matches()
        ? OriginWords.stretch(
            Double.parseDouble(metres.group(1)), Double.parseDouble(metres.group(2)), digits)
        : level;
  }
}
