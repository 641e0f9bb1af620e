package milewarden.verdict.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Scanner;
import milewarden.course.Direction;
import milewarden.verdict.Campaign;
import milewarden.verdict.ReleaseFigures;
import org.junit.jupiter.api.Test;

/** Trueness and precision of published trials: a laboratory is a session, a replicate a pass. */
final class PrecisionTest {
  @Test
  void theGlucoseTrialComesOutAsPublished() {
    // ASTM E691, glucose in serum, 8 laboratories of 3 replicates: mean, s_r, s_R of five materials
    // (from memory, each digit recomputed from the data). Of material A the component between
    // laboratories is negative, -0.0094, and set to 0: s_R = s_r.
    double[][] published = {
      {41.5183, 1.0632, 1.0632},
      {79.6796, 1.4949, 1.5796},
      {134.7262, 1.5434, 2.1482},
      {194.7171, 2.6251, 3.3657},
      {294.4921, 3.9350, 4.1923}
    };
    for (int m = 0; m < published.length; m++) {
      String material = String.valueOf((char) ('A' + m));
      Map<String, List<Double>> labs = new LinkedHashMap<>();
      for (Map<String, String> row : rows("precision/astm_e691_glucose.csv")) {
        double x = Double.parseDouble(row.getOrDefault(material, ""));
        // The standard corrects one datum of material C: 148.30 is a slip of the pen for 138.30.
        if (material.equals("C") && x == 148.30) x = 138.30;
        labs.computeIfAbsent(row.getOrDefault("lab", ""), k -> new ArrayList<>()).add(x);
      }
      ReleaseFigures f = figures(labs);
      assertThat(f.meanPercent()).as(material).isCloseTo(published[m][0], within(5e-5));
      assertThat(f.passSdPercent().orElseThrow()).isCloseTo(published[m][1], within(5e-5));
      assertThat(reproducibility(f)).as(material).isCloseTo(published[m][2], within(5e-5));
    }
  }

  @Test
  void theSulfurTrialComesOutThoughReplicatesAreUnequal() {
    // ISO 5725-2, sulfur in coal, 3 to 5 replicates (from memory): m, s_r, s_R as printed. The
    // standard weighs a laboratory by its replicates; of the mean here each session weighs the
    // same, by design: m within 0.003.
    double[][] published = {{0.690, 0.015, 0.026}, {1.252, 0.029, 0.061}, {1.667, 0.017, 0.035}};
    for (int level = 1; level <= 3; level++) {
      Map<String, List<Double>> labs = new LinkedHashMap<>();
      for (Map<String, String> row : rows("precision/iso5725_2_sulfur_in_coal_memory.csv"))
        if (row.getOrDefault("level", "").equals(String.valueOf(level)))
          labs.computeIfAbsent(row.getOrDefault("lab", ""), k -> new ArrayList<>())
              .add(Double.parseDouble(row.getOrDefault("value", "")));
      ReleaseFigures f = figures(labs);
      double[] p = published[level - 1];
      assertThat(f.meanPercent()).isCloseTo(p[0], within(0.003));
      assertThat(f.passSdPercent().orElseThrow()).isCloseTo(p[1], within(0.0005));
      assertThat(reproducibility(f)).isCloseTo(p[2], within(0.0005));
    }
  }

  @Test
  void thePeakFlowMetersAgreeWithinThePublishedLimits() {
    // Bland and Altman (1986): 17 subjects, first readings: mean difference -2.1, limits -78.1 and
    // 73.9 (mean +-1.96 SD).
    Map<String, List<Double>> subjects = new LinkedHashMap<>();
    int i = 0;
    for (Map<String, String> row : rows("gum/bland_altman_1986_pefr.csv"))
      subjects.put(
          "s" + i++,
          List.of(
              Double.parseDouble(row.getOrDefault("large_1", ""))
                  - Double.parseDouble(row.getOrDefault("mini_1", ""))));
    ReleaseFigures f = figures(subjects);
    assertThat(f.meanPercent()).isCloseTo(-2.1, within(0.05));
    assertThat(f.limitsOfAgreement().orElseThrow().low()).isCloseTo(-78.10, within(0.005));
    assertThat(f.limitsOfAgreement().orElseThrow().high()).isCloseTo(73.86, within(0.005));
  }

  /** One unit, one condition, one direction: every group is an outing. */
  private static ReleaseFigures figures(Map<String, List<Double>> groups) {
    Campaign c = new Campaign().release("1.0");
    int day = 0;
    for (List<Double> of : groups.values()) {
      for (double x : of) c.track("1.0", day, Campaign.LOOP, "unit-a", Direction.FORWARD, x);
      day++;
    }
    return c.judge().releases().get(0).pooled().orElseThrow();
  }

  /** s_R: one pass of any session; the limits of agreement are 1.96 of it on either side. */
  private static double reproducibility(ReleaseFigures f) {
    var limits = f.limitsOfAgreement().orElseThrow();
    return (limits.high() - limits.low()) / 2 / 1.96;
  }

  private static List<Map<String, String>> rows(String file) {
    InputStream in =
        java.util.Objects.requireNonNull(
            PrecisionTest.class.getResourceAsStream("/statistics/" + file), file);
    List<Map<String, String>> rows = new ArrayList<>();
    try (Scanner lines = new Scanner(in, StandardCharsets.UTF_8)) {
      String[] names = lines.nextLine().split(",");
      while (lines.hasNextLine()) {
        String[] cells = lines.nextLine().split(",", -1);
        Map<String, String> row = new LinkedHashMap<>();
        for (int i = 0; i < names.length && i < cells.length; i++) row.put(names[i], cells[i]);
        rows.add(row);
      }
    }
    return rows;
  }
}
