package milewarden.report.page.run;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import milewarden.accuracy.PassMeasurement;
import milewarden.report.Digits;
import milewarden.report.page.Fact;

/** Series along a pass: where the excess arises, how far off the line, how fast. */
public final class AlongChart {
  // Excess is summed over 10 m of chainage by the engine.
  private static final double BIN_M = 10;

  private AlongChart() {}

  /** Excess by place: a bar for each 10 m. */
  public record Excess(double lengthM, List<Bin> bins) {
    public Excess {
      bins = List.copyOf(bins);
    }
  }

  /** Step length minus advance within a stretch of the course. */
  public record Bin(double fromM, double toM, double excessM, String words) {}

  /** Lines against chainage, with the marks that they pass. */
  public record Lines(double lengthM, List<Place> marks, List<Line> lines) {
    public Lines {
      marks = List.copyOf(marks);
      lines = List.copyOf(lines);
    }
  }

  /** A mark on the way. */
  public record Place(double chainageM, String name) {}

  /**
   * The places of a pass, which offset and speed have in common, by columns: names and places again
   * for each of its hundreds of values would be half of the page.
   *
   * @param words such as {@code at 120.5 m}
   */
  public record Places(List<Double> chainageM, List<String> words) {
    public Places {
      chainageM = List.copyOf(chainageM);
      words = List.copyOf(words);
    }
  }

  /**
   * One series.
   *
   * @param without which of the places have no value, from 0; the others have one each, in order
   */
  public record Line(String name, List<Integer> without, List<Double> value, List<String> words) {
    public Line {
      without = List.copyOf(without);
      value = List.copyOf(value);
      words = List.copyOf(words);
    }
  }

  // A thousandth of a metre, or of a metre a second, is far below what a screen can show.
  private static double toDraw(double value) {
    return Math.round(1000 * value) / 1000.0;
  }

  static Excess excess(PassMeasurement pass, Digits digits) {
    // By place of the course: laps and both directions are folded into one.
    double length = pass.distances().referenceM() / pass.laps();
    List<Bin> bins = new ArrayList<>();
    for (int i = 0; i < pass.excessPer10m().size(); i++) {
      double from = BIN_M * i;
      double to = Math.min(length, from + BIN_M);
      if (to <= from) break;
      double excess = pass.excessPer10m().get(i);
      bins.add(new Bin(from, to, toDraw(excess), at(from, digits) + ": " + digits.change(excess)));
    }
    return new Excess(length, bins);
  }

  static Places places(PassMeasurement pass, Digits digits) {
    List<Double> chainage = pass.profile().chainageM();
    return new Places(
        chainage.stream().map(AlongChart::toDraw).toList(),
        chainage.stream().map(m -> at(m, digits)).toList());
  }

  static Lines offset(PassMeasurement pass, List<Place> marks, Digits digits) {
    List<Double> offset = pass.profile().offsetM();
    Line line =
        new Line(
            "offset",
            List.of(),
            offset.stream().map(AlongChart::toDraw).toList(),
            offset.stream().map(digits::change).toList());
    return new Lines(pass.distances().referenceM(), marks, List.of(line));
  }

  static Lines speed(PassMeasurement pass, List<Place> marks, Digits digits) {
    List<Double> all = pass.profile().speedMps();
    List<Integer> without =
        IntStream.range(0, all.size()).filter(i -> !Double.isFinite(all.get(i))).boxed().toList();
    List<Double> speed = all.stream().filter(Double::isFinite).toList();
    Line line =
        new Line(
            "speed",
            without,
            speed.stream().map(AlongChart::toDraw).toList(),
            speed.stream().map(v -> v > 0 ? digits.pace(1 / v) : "standing").toList());
    return new Lines(pass.distances().referenceM(), marks, List.of(line));
  }

  /** The slowest, the middle and the fastest of a pass, as the chart's twin. */
  static List<Fact> speeds(PassMeasurement pass, Digits digits) {
    PassMeasurement.Profile p = pass.profile();
    List<Integer> known =
        IntStream.range(0, p.speedMps().size())
            .filter(i -> Double.isFinite(p.speedMps().get(i)))
            .boxed()
            .sorted(Comparator.comparingDouble(i -> p.speedMps().get(i)))
            .toList();
    if (known.isEmpty()) return List.of();
    return List.of(
        speed("slowest", known.get(0), p, digits),
        speed("middle", known.get(known.size() / 2), p, digits),
        speed("fastest", known.get(known.size() - 1), p, digits));
  }

  private static Fact speed(String name, int i, PassMeasurement.Profile p, Digits digits) {
    double speed = p.speedMps().get(i);
    return new Fact(
        name,
        digits.speed(speed),
        (speed > 0 ? digits.pace(1 / speed) : "standing")
            + ", "
            + at(p.chainageM().get(i), digits));
  }

  private static String at(double chainageM, Digits digits) {
    return "at " + digits.ground(chainageM);
  }
}
