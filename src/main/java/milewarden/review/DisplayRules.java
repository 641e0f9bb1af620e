package milewarden.review;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import milewarden.accuracy.Distances;
import milewarden.accuracy.Engine;
import milewarden.accuracy.display.DisplayDetective;
import milewarden.accuracy.display.RuleFound;
import milewarden.accuracy.display.ShownAndRecorded;
import milewarden.store.Id.FileId;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.RunId;
import milewarden.store.Tx;
import milewarden.store.judged.Changes;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;

/** What the readings of all of a model's passes say of the rule of its display; for who asks. */
public final class DisplayRules {
  // A reading further off than this many steps was of another distance than the file's.
  private static final double SAME_DISTANCE = 5;

  private DisplayRules() {}

  /**
   * One display of a model, known by its step.
   *
   * @param stepM the step, metres
   * @param unknown recordings whose rule their tester does not know: they can be told it
   */
  public record OfStep(double stepM, RuleFound found, List<FileId> unknown) {
    public OfStep {
      unknown = List.copyOf(unknown);
    }
  }

  /** By step in ascending order; passes that are left out say nothing. */
  public static List<OfStep> of(Tx tx, ModelId model) {
    return Changes.unmoved(
            tx, List.of(model), Rules.class, model, () -> new Rules(worked(tx, model)))
        .all();
  }

  private record Rules(List<OfStep> all) {}

  private static List<OfStep> worked(Tx tx, ModelId model) {
    Map<Double, List<Results.Summary>> bySteps = new TreeMap<>();
    for (Results.Summary pass : Results.ofModel(tx, model, Engine.VERSION))
      if (pass.exclusion().isEmpty() && reading(pass).isPresent())
        bySteps
            .computeIfAbsent(pass.displayStepM().orElseThrow(), s -> new ArrayList<>())
            .add(pass);
    List<OfStep> all = new ArrayList<>();
    Map<RunId, FileId> files = bySteps.isEmpty() ? Map.of() : Runs.filesOfModel(tx, model);
    bySteps.forEach((step, passes) -> all.add(ofStep(files, step, passes)));
    return all;
  }

  private static OfStep ofStep(
      Map<RunId, FileId> files, double stepM, List<Results.Summary> passes) {
    List<ShownAndRecorded> readings = passes.stream().map(p -> reading(p).orElseThrow()).toList();
    List<FileId> unknown =
        passes.stream()
            .filter(p -> ruleUnknown(p.distances(), stepM))
            .map(Results.Summary::run)
            .distinct()
            .filter(files::containsKey)
            .map(files::get)
            .toList();
    return new OfStep(stepM, DisplayDetective.of(readings), unknown);
  }

  private static Optional<ShownAndRecorded> reading(Results.Summary pass) {
    Distances d = pass.distances();
    if (pass.displayStepM().isEmpty() || d.recordedM().isEmpty() || d.shownAsReadM().isEmpty())
      return Optional.empty();
    double step = pass.displayStepM().getAsDouble();
    double speed =
        pass.durationS().isPresent() && pass.durationS().getAsDouble() > 0
            ? d.referenceM() / pass.durationS().getAsDouble()
            : 0;
    double recorded = d.recordedM().getAsDouble();
    double shown = d.shownAsReadM().getAsDouble();
    return Math.abs(recorded - shown) > SAME_DISTANCE * step
        ? Optional.empty()
        : Optional.of(new ShownAndRecorded(shown, step, recorded, speed));
  }

  /** ENGINE.md section 5: only a reading whose rule is unknown may lie in one and a half steps. */
  private static boolean ruleUnknown(Distances d, double stepM) {
    return d.shownM().isPresent()
        && d.shownM().get().highM() - d.shownM().get().lowM() > 1.25 * stepM;
  }
}
