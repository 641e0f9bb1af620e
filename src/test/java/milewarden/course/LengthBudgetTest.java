package milewarden.course;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import milewarden.course.FieldSheet.Count;
import milewarden.course.FieldSheet.Counted;
import milewarden.course.FieldSheet.Path;
import milewarden.course.FieldSheet.Taped;
import milewarden.course.FieldSheet.Taping;
import milewarden.course.LengthBudget.Source;
import milewarden.course.LengthBudget.Term;
import milewarden.course.LengthBudget.Warning;
import milewarden.geodesy.Table;
import org.junit.jupiter.api.Test;

/** Published examples: src/test/resources/course/SOURCE.txt. */
final class LengthBudgetTest {
  private static final OptionalDouble NOT_SAID = OptionalDouble.empty();
  private static final Path LOOP = new Path(OptionalDouble.of(0), OptionalDouble.of(1));

  private static Count count(double start, double end) {
    return new Count(start, end, OptionalInt.empty(), NOT_SAID);
  }

  private static FieldSheet sheet(FieldSheet.Readings readings) {
    return new FieldSheet(readings, LOOP, OptionalDouble.of(0), List.of(), Optional.empty(), "");
  }

  /** The lesson's rides and lap. */
  private static Counted lesson(OptionalInt turns, OptionalDouble aboutM) throws IOException {
    List<Count> before = new ArrayList<>();
    List<Count> after = new ArrayList<>();
    List<Count> passes = new ArrayList<>();
    for (Map<String, String> row : Table.read("/course/course_calibration_example.csv")) {
      double start = Table.number(row, "start_count");
      double end = Table.number(row, "end_count");
      switch (String.valueOf(row.get("phase"))) {
        case "pre" -> before.add(count(start, end));
        case "post" -> after.add(count(start, end));
        default -> passes.add(new Count(start, end, turns, NOT_SAID));
      }
    }
    return new Counted(
        Method.CALIBRATED_BICYCLE,
        499.55,
        OptionalDouble.of(0),
        OptionalInt.of(5),
        1,
        NOT_SAID,
        aboutM,
        before,
        after,
        passes);
  }

  @Test
  void theLessonsConstantsComeOutWithTheirFactorPutOnByHand() throws IOException {
    // Course measurement lesson 10 (UK): before 5608.5 counts, K 11238; after 5610.25, K 11242
    // counts a kilometre, each with 1.001. Ours carry none.
    LengthBudget.Calibration found =
        LengthBudget.of(sheet(lesson(OptionalInt.of(1), NOT_SAID))).calibration().orElseThrow();
    assertThat(found.beforePerKm() * 1.001).isCloseTo(11238, within(0.5));
    assertThat(found.afterPerKm().orElseThrow() * 1.001).isCloseTo(11242, within(0.5));
    assertThat(found.usedPerKm())
        .isCloseTo((found.beforePerKm() + found.afterPerKm().orElseThrow()) / 2, within(1e-9));
  }

  @Test
  void theLessonsLapCountsThroughTheTurnOfTheCounter() throws IOException {
    // 34871 to 52998 on a counter of five digits is 118127 counts, 10.5077 km by the larger
    // constant with its 1.001, rounded to 11242. Without it, by the mean of both, 10,519.95 m.
    LengthBudget budget = LengthBudget.of(sheet(lesson(OptionalInt.of(1), NOT_SAID)));
    LengthBudget.Calibration found = budget.calibration().orElseThrow();
    assertThat(found.passCounts()).containsExactly(118127.0);
    double larger = found.afterPerKm().orElseThrow() * 1.001;
    assertThat(118127 / (double) Math.round(larger)).isCloseTo(10.5077, within(0.000051));
    assertThat(budget.lengthM()).isCloseTo(10519.95, within(0.01));
    // The factor is never put on by itself.
    assertThat(budget.safetyFactor()).isEmpty();
    assertThat(budget.referenceM()).isEqualTo(budget.lengthM());
  }

  @Test
  void howOftenTheCounterTurnedIsFoundFromTheRoughLength() throws IOException {
    LengthBudget budget =
        LengthBudget.of(sheet(lesson(OptionalInt.empty(), OptionalDouble.of(10_400))));
    assertThat(budget.calibration().orElseThrow().passCounts()).containsExactly(118127.0);
    assertThat(kinds(budget)).doesNotContain(Warning.Kind.COUNTER_TURNS_ASSUMED);
  }

  @Test
  void fourCalibrationRidesOfTheSeminarGiveItsConstant() {
    // Seminar slides (2015): 5584 counts on 0.5 km, K = 5584 x 1.001 / 0.5 = 11179.168.
    Counted c =
        new Counted(
            Method.CALIBRATED_BICYCLE,
            500,
            NOT_SAID,
            OptionalInt.empty(),
            1,
            NOT_SAID,
            NOT_SAID,
            List.of(count(0, 5584)),
            List.of(),
            List.of(count(0, 1000)));
    double perKm = LengthBudget.of(sheet(c)).calibration().orElseThrow().usedPerKm();
    assertThat(perKm * 1.001).isCloseTo(11179.168, within(1e-6));
  }

  @Test
  void publishedTapeExamplesComeOut() throws IOException {
    for (Map<String, String> row : Table.read("/course/steel_tape_examples.csv")) {
      boolean fahrenheit = "F".equals(row.get("temp_unit"));
      double perDegree = Table.number(row, "coef_per_unit") * (fahrenheit ? 1.8 : 1);
      Taped tape =
          new Taped(
              30,
              String.valueOf(row.get("other_factor")).startsWith("1.000316") ? 30.00948 : 30,
              NOT_SAID,
              celsius(Table.number(row, "ref_temp"), fahrenheit),
              perDegree,
              NOT_SAID,
              List.of(
                  new Taping(
                      Table.number(row, "raw_length"),
                      OptionalDouble.of(celsius(Table.number(row, "tape_temp"), fahrenheit)))));
      double published = Table.number(row, "published_corrected");
      // Printed to the thousandth of its unit.
      assertThat(LengthBudget.of(sheet(tape)).lengthM())
          .as(row.get("case"))
          .isCloseTo(published, within(0.0005));
    }
  }

  private static double celsius(double degrees, boolean fahrenheit) {
    return fahrenheit ? (degrees - 32) / 1.8 : degrees;
  }

  @Test
  void aCertifiedTenKilometresAreTenMetresLonger() {
    // UK course measurement: a 10,000 m course is laid out as 10,010 m.
    LengthBudget carries = LengthBudget.of(sheet(new FieldSheet.Certified(10_000, true)));
    assertThat(carries.lengthM()).isEqualTo(10_000);
    assertThat(carries.referenceM()).isCloseTo(10_010, within(1e-9));
    assertThat(carries.certifiableM()).isCloseTo(10_000, within(1e-9));
    LengthBudget plain = LengthBudget.of(sheet(new FieldSheet.Certified(10_000, false)));
    assertThat(plain.referenceM()).isEqualTo(10_000);
  }

  @Test
  void aCertifiedMarathonLiesWhereTheSportSaysItDoes() {
    // Newspaper and club pages: a correct marathon is between 42.195 and 42.279 km.
    LengthBudget b = LengthBudget.of(sheet(new FieldSheet.Certified(42_195, true)));
    double half = Math.sqrt(3) * b.terms().get(0).standardM();
    assertThat(b.referenceM() - half).isCloseTo(42_195, within(0.1));
    assertThat(b.referenceM() + half).isCloseTo(42_279, within(0.5));
  }

  @Test
  void aPathBesideTheLineIsTheLargestTermOfAShortLoop() {
    // Closed form: a path r to the side of a line that turns once is 2 pi r longer; limits on both
    // sides give half width over root 3 (JCGM 100:2008, 4.3.7). On 1 km, 0.15 m: 0.054 %.
    FieldSheet sheet = wheel(new Path(OptionalDouble.of(0.15), OptionalDouble.of(1)));
    LengthBudget budget = LengthBudget.of(sheet);
    Term path = term(budget, Source.PATH);
    assertThat(100 * path.standardM() / budget.lengthM()).isCloseTo(0.054, within(0.0005));
    assertThat(budget.largest()).contains(path);
    FieldSheet eight = wheel(new Path(OptionalDouble.of(0.15), OptionalDouble.of(0)));
    assertThat(term(LengthBudget.of(eight), Source.PATH).standardM()).isZero();
  }

  /** 1 km, counted twice. */
  private static FieldSheet wheel(Path path) {
    List<Count> rides = List.of(count(0, 5000), count(0, 5001), count(0, 4999), count(0, 5000));
    Counted c =
        new Counted(
            Method.WHEEL,
            500,
            OptionalDouble.of(0.02),
            OptionalInt.empty(),
            1,
            NOT_SAID,
            NOT_SAID,
            rides,
            rides,
            List.of(count(0, 10_001), count(0, 9_999)));
    return new FieldSheet(c, path, OptionalDouble.of(0.05), List.of(), Optional.empty(), "");
  }

  @Test
  void theTermsAreThoseOfTheirFormulas() {
    LengthBudget b = LengthBudget.of(wheel(LOOP));
    assertThat(b.lengthM()).isCloseTo(1000, within(1e-9));
    // Pooled variance of the rides 4/6, of a mean of two means of four 4/6 (1/4 + 1/4) / 4.
    double rides = Math.sqrt(4.0 / 6 / 8) / 5000 * 1000;
    assertThat(term(b, Source.CALIBRATION_RIDES).standardM()).isCloseTo(rides, within(1e-12));
    assertThat(term(b, Source.CALIBRATION_RIDES).degreesOfFreedom()).isEqualTo(6);
    // Two passes of 10,001 and 9,999: standard deviation root 2, of the mean 1 count or 0.1 m.
    assertThat(term(b, Source.PASSES).standardM()).isCloseTo(0.1, within(1e-12));
    assertThat(term(b, Source.PASSES).degreesOfFreedom()).isEqualTo(1);
    assertThat(term(b, Source.DRIFT).standardM()).isZero();
    // 0.02 m of 500 m.
    assertThat(term(b, Source.CALIBRATION_LENGTH).standardM()).isCloseTo(0.04, within(1e-12));
    // One count, step over root 12 (GUM F.2.2.1), 0.1 m: the mean of two passes, and of eight
    // rides of half the length.
    double step = 0.1 / Math.sqrt(12);
    assertThat(term(b, Source.RESOLUTION).standardM())
        .isCloseTo(Math.hypot(step / Math.sqrt(2), 2 * step / Math.sqrt(8)), within(1e-12));
    // 0.05 m on two marks, limits on both sides.
    assertThat(term(b, Source.MARKS).standardM())
        .isCloseTo(0.05 * Math.sqrt(2.0 / 3), within(1e-12));
    double squares = b.terms().stream().mapToDouble(t -> t.standardM() * t.standardM()).sum();
    assertThat(b.standardUncertaintyM()).isCloseTo(Math.sqrt(squares), within(1e-12));
    assertThat(b.terms().stream().mapToDouble(b::share).sum()).isCloseTo(1, within(1e-12));
  }

  @Test
  void constantsThatMovedWarnAndThenAskForANewMeasurement() {
    // Our rule: 0.05 % warns, 0.1 % asks; a change d gives limits of d/2 on both sides.
    assertThat(kinds(moved(10_004))).doesNotContain(Warning.Kind.CONSTANT_MOVED);
    assertThat(kinds(moved(10_006))).contains(Warning.Kind.CONSTANT_MOVED);
    assertThat(kinds(moved(10_011)))
        .contains(Warning.Kind.MEASURE_AGAIN)
        .doesNotContain(Warning.Kind.CONSTANT_MOVED);
    LengthBudget b = moved(10_006);
    assertThat(term(b, Source.DRIFT).standardM())
        .isCloseTo(0.0003 * b.lengthM() / Math.sqrt(3), within(1e-9));
  }

  private static LengthBudget moved(double after) {
    return LengthBudget.of(
        sheet(
            new Counted(
                Method.WHEEL,
                1000,
                NOT_SAID,
                OptionalInt.empty(),
                1,
                NOT_SAID,
                NOT_SAID,
                List.of(count(0, 10_000)),
                List.of(count(0, after)),
                List.of(count(0, 5000)))));
  }

  @Test
  void whatNobodyNotedIsAssumedAndSaid() {
    LengthBudget b =
        LengthBudget.of(
            new FieldSheet(
                new Counted(
                    Method.CALIBRATED_BICYCLE,
                    200,
                    NOT_SAID,
                    OptionalInt.of(5),
                    1,
                    NOT_SAID,
                    NOT_SAID,
                    List.of(count(0, 2000), count(99_000, 1000)),
                    List.of(),
                    List.of(count(0, 5000))),
                Path.NOT_SAID,
                NOT_SAID,
                List.of(),
                Optional.empty(),
                ""));
    assertThat(kinds(b))
        .containsExactlyInAnyOrder(
            Warning.Kind.CALIBRATION_UNCERTAINTY_ASSUMED,
            Warning.Kind.COUNTER_TURNS_ASSUMED,
            Warning.Kind.FEW_RIDES,
            Warning.Kind.NO_RIDES_AFTER,
            Warning.Kind.TEMPERATURE_NOT_NOTED,
            Warning.Kind.ONE_PASS,
            Warning.Kind.SHORT_CALIBRATION,
            Warning.Kind.PATH_NOT_SAID);
    assertThat(b.terms()).filteredOn(Term::assumed).hasSize(6);
  }

  @Test
  void onePassAndItsLikeAreJudgedByTheMeasurersLimit() {
    // Measurers' practice: repeated surveys that differ by more than 0.08 % are done again.
    assertThat(kinds(passes(10_000, 10_007))).doesNotContain(Warning.Kind.PASSES_APART);
    assertThat(kinds(passes(10_000, 10_009))).contains(Warning.Kind.PASSES_APART);
  }

  private static LengthBudget passes(double first, double second) {
    return LengthBudget.of(
        sheet(
            new Counted(
                Method.WHEEL,
                500,
                NOT_SAID,
                OptionalInt.empty(),
                1,
                NOT_SAID,
                NOT_SAID,
                List.of(count(0, 5000), count(0, 5000)),
                List.of(count(0, 5000), count(0, 5000)),
                List.of(count(0, first), count(0, second)))));
  }

  @Test
  void theDegreesOfFreedomAreThoseOfTheGum() {
    // JCGM 100:2008, G.4.1, carried by two passes and calibration rides is not ours to rebuild;
    // here its equation G.2b by hand: terms 0.1 m with 1, rides as above with 6.
    LengthBudget b = LengthBudget.of(wheel(LOOP));
    double u4 = Math.pow(b.standardUncertaintyM(), 4);
    double rides = Math.pow(term(b, Source.CALIBRATION_RIDES).standardM(), 4) / 6;
    double passes = Math.pow(0.1, 4) / 1;
    assertThat(b.degreesOfFreedom()).isCloseTo(u4 / (rides + passes), within(1e-9));
    // Few degrees of freedom make the factor larger than 1.96, table G.2.
    assertThat(b.coverageFactor()).isGreaterThan(1.96);
    assertThat(b.expandedUncertaintyM())
        .isCloseTo(b.coverageFactor() * b.standardUncertaintyM(), within(1e-12));
  }

  private static Term term(LengthBudget budget, Source source) {
    return budget.terms().stream().filter(t -> t.source() == source).findFirst().orElseThrow();
  }

  private static List<Warning.Kind> kinds(LengthBudget budget) {
    return budget.warnings().stream().map(Warning::kind).toList();
  }
}
