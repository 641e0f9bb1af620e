package milewarden.report.page.model;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import milewarden.accuracy.LadderStep;
import milewarden.report.Digits;
import milewarden.report.Words;
import milewarden.report.pass.LadderWords;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.place.MeanLadder;

/**
 * The mean ladders of the releases, in the columns of the chart above.
 *
 * @param releases all of the chart above, in its order; one without a ladder stays empty
 * @param steps that any release has, in the order of the ladder
 * @param rows one per release that has a ladder: the table twin
 */
public record LaddersChart(
    List<String> releases, List<String> steps, List<Part> parts, List<Row> rows, String sentence) {
  public LaddersChart {
    releases = List.copyOf(releases);
    steps = List.copyOf(steps);
    parts = List.copyOf(parts);
    rows = List.copyOf(rows);
  }

  // Less than this in every release can't be seen beside the others; the table twin has no column
  // for it either.
  private static final double WORTH_DRAWING_M_PER_KM = 0.1;
  // Less than half a metre in a kilometre is no news; the sentence passes it over.
  private static final double WORTH_SAYING_M_PER_KM = 0.5;

  /** A step of a release. */
  public record Part(String release, String step, double metres, String words) {}

  /** A release's steps in words. */
  public record Row(String release, List<String> amounts, String sessions) {
    public Row {
      amounts = List.copyOf(amounts);
    }
  }

  /** Empty where no release has a ladder. */
  static Optional<LaddersChart> of(List<MeanLadder> ladders, ModelJudgement judged, Digits digits) {
    List<String> releases = judged.releases().stream().map(r -> r.release().version()).toList();
    return of(ladders, releases, sentence(ladders, judged, digits), digits);
  }

  /** Of units side by side, each named as its ladder's release; empty where none has one. */
  public static Optional<LaddersChart> ofUnits(List<MeanLadder> ladders, Digits digits) {
    List<String> says = new ArrayList<>();
    for (MeanLadder l : ladders)
      largest(l)
          .ifPresent(
              e ->
                  says.add(
                      l.firmware()
                          + ": "
                          + Words.of(e.getKey())
                          + ", "
                          + digits.perRoadUnit(e.getValue(), 1000)));
    String sentence =
        says.isEmpty()
            ? "No step of any ladder is worth a word."
            : "The largest step of each: " + String.join("; ", says) + ".";
    return of(ladders, ladders.stream().map(MeanLadder::firmware).toList(), sentence, digits);
  }

  private static Optional<LaddersChart> of(
      List<MeanLadder> ladders, List<String> releases, String sentence, Digits digits) {
    if (ladders.isEmpty()) return Optional.empty();
    Map<String, MeanLadder> of =
        ladders.stream().collect(Collectors.toMap(MeanLadder::firmware, l -> l));
    List<LadderStep> steps = new ArrayList<>();
    for (LadderStep step : LadderStep.values())
      if (ladders.stream()
          .anyMatch(
              l -> Math.abs(l.metresPerKm().getOrDefault(step, 0.0)) >= WORTH_DRAWING_M_PER_KM))
        steps.add(step);
    List<Part> parts = new ArrayList<>();
    List<Row> rows = new ArrayList<>();
    for (String release : releases) {
      if (!of.containsKey(release)) continue;
      MeanLadder ladder = of.get(release);
      List<String> amounts = new ArrayList<>();
      for (LadderStep step : steps) {
        Double metres = ladder.metresPerKm().get(step);
        amounts.add(metres == null ? Digits.UNKNOWN : digits.perRoadUnit(metres, 1000));
        if (metres != null)
          parts.add(
              new Part(
                  release,
                  Words.of(step),
                  metres,
                  release + "\n" + Words.of(step) + "\n" + digits.perRoadUnit(metres, 1000)));
      }
      rows.add(new Row(release, amounts, digits.sessions(ladder.sessions())));
    }
    return Optional.of(
        new LaddersChart(releases, steps.stream().map(Words::of).toList(), parts, rows, sentence));
  }

  /** The largest step of the newest tested release and what it means. */
  private static String sentence(List<MeanLadder> ladders, ModelJudgement judged, Digits digits) {
    Optional<MeanLadder> newest =
        ModelPage.newestTested(judged)
            .flatMap(
                r ->
                    ladders.stream()
                        .filter(l -> l.firmware().equals(r.release().version()))
                        .findFirst());
    if (newest.isEmpty()) return "";
    String of = "Of " + newest.get().firmware();
    return largest(newest.get())
        .map(
            e ->
                of
                    + " the largest step is "
                    + Words.of(e.getKey())
                    + ", "
                    + digits.perRoadUnit(e.getValue(), 1000)
                    + ": "
                    + LadderWords.meaning(e.getKey(), e.getValue() > 0)
                    + ".")
        .orElse(of + " no step of the ladder is worth a word.");
  }

  private static Optional<Map.Entry<LadderStep, Double>> largest(MeanLadder ladder) {
    return ladder.metresPerKm().entrySet().stream()
        .max(java.util.Comparator.comparingDouble(e -> Math.abs(e.getValue())))
        .filter(e -> Math.abs(e.getValue()) >= WORTH_SAYING_M_PER_KM);
  }
}
