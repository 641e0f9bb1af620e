package milewarden.report.pass;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.accuracy.reference.Epoch;
import milewarden.accuracy.reference.PositionErrors;
import milewarden.accuracy.reference.ReferenceTrack;
import milewarden.accuracy.reference.ReferenceTrack.Compared;
import milewarden.report.Digits;

/** What the errors of positions against a reference track say. */
public final class PositionWords {
  private static final int CENTIMETRES = 2;

  private PositionWords() {}

  /** A figure, its size, and what it is. */
  public record Row(String name, String value, String meaning) {}

  /** Why a track without times is no reference track, and what to do. */
  public static String noTimes() {
    return "The reference track has no times, so nobody knows where it was when. Export it anew with"
        + " times.";
  }

  /** Where not one fix could be compared: why, and what to do. */
  public static String nothingInCommon(
      ReferenceTrack reference, Optional<Instant> start, Digits digits) {
    String from = reference.startedAt().map(digits::moment).orElse(Digits.UNKNOWN);
    String to = reference.endedAt().map(digits::moment).orElse(Digits.UNKNOWN);
    return "No fix falls into the times of the reference track ("
        + from
        + " to "
        + to
        + "; the recording begins "
        + start.map(digits::moment).orElse("at no known time")
        + "). Check both clocks and dates, or give the reference track of this outing.";
  }

  /** Of errors that are there, the figures in the order of a table. */
  public static List<Row> rows(PositionErrors e, Digits digits) {
    List<Row> rows = new ArrayList<>();
    rows.add(
        new Row(
            "constant shift",
            length(Math.hypot(e.meanEastM(), e.meanNorthM()), digits),
            "a datum or an antenna; a shift that stays lengthens nothing"));
    rows.add(new Row("RMSE", length(e.rmseM(), digits), "root mean square horizontal error"));
    rows.add(new Row("CEP50", length(e.cep50M(), digits), "half of the positions lie within"));
    rows.add(new Row("R95", length(e.r95M(), digits), "95 % of the positions lie within"));
    String alike = length(e.nssdaAlikeM(), digits) + " if alike in both axes";
    rows.add(
        e.nssda95M().isPresent()
            ? new Row(
                "NSSDA 95 %",
                length(e.nssda95M().getAsDouble(), digits), "if the errors are normal; " + alike)
            : new Row(
                "NSSDA 95 %",
                "not given",
                "the axes differ too much: "
                    + length(e.rmseEastM(), digits)
                    + " east, "
                    + length(e.rmseNorthM(), digits)
                    + " north; "
                    + alike));
    rows.add(new Row("largest", length(e.largestM(), digits), ""));
    return List.copyOf(rows);
  }

  /**
   * Beneath the drawing of the errors against time.
   *
   * @param epochs one or more
   * @param group how many positions one dot stands for
   */
  public static String caption(PositionErrors e, List<Epoch> epochs, int group, Digits digits) {
    return "Horizontal error of "
        + digits.count(e.epochs())
        + " positions, from "
        + digits.moment(epochs.get(0).at())
        + (group > 1
            ? "; each dot of the line is the largest of " + digits.count(group) + " positions"
            : "")
        + ". Half of them lie within CEP50, "
        + length(e.cep50M(), digits)
        + ", and 95 % within R95, "
        + length(e.r95M(), digits)
        + "; the line breaks where the reference track knows no place. Across: minutes.";
  }

  /** What a reader must know of the comparison besides. */
  public static List<String> remarks(Compared c, Digits digits) {
    List<String> all = new ArrayList<>();
    c.errors()
        .ifPresent(
            e -> {
              all.add(
                  digits.count(e.epochs())
                      + " positions were compared"
                      + (c.unmatched() == 0
                          ? "."
                          : "; "
                              + digits.count(c.unmatched())
                              + " more fall into gaps of the reference track or beyond its ends."));
              if (e.indicative())
                all.add(
                    "Fewer than 20 positions: these figures are indicative only"
                        + " (FGDC-STD-007.3-1998).");
            });
    if (c.clockDifferenceS().isPresent())
      all.add(
          "The positions would fit far better "
              + digits.seconds(Math.abs(c.clockDifferenceS().getAsDouble()))
              + (c.clockDifferenceS().getAsDouble() > 0 ? " later" : " earlier")
              + ": the clocks differ, or the positions lag. Nothing was corrected.");
    return List.copyOf(all);
  }

  private static String length(double metres, Digits digits) {
    return digits.ground(metres, CENTIMETRES);
  }
}
