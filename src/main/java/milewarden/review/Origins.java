package milewarden.review;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.accuracy.Engine;
import milewarden.store.Id.FirmwareId;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.judged.Changes;
import milewarden.store.run.EvidenceRows;
import milewarden.store.run.Firmware;
import milewarden.store.run.Models;
import milewarden.store.run.PlaceRows;
import milewarden.store.run.Results;
import milewarden.verdict.Comparison;
import milewarden.verdict.Findings;
import milewarden.verdict.Policy;
import milewarden.verdict.place.DeviceDayCourse;
import milewarden.verdict.place.DifferenceStrip;
import milewarden.verdict.place.MeanLadder;
import milewarden.verdict.place.Origin;
import milewarden.verdict.place.PlacedPass;

/** Where the difference of two releases comes from, from the stored passes; for who asks. */
public final class Origins {
  private Origins() {}

  /** Device, day or course by the errors as they are judged; empty where no course is common. */
  public static Optional<DeviceDayCourse> told(
      Tx tx, Models.Model model, Comparison c, Policy policy) {
    return Changes.unmoved(
            tx,
            List.of(model.id()),
            Told.class,
            Between.of(model.id(), c, policy),
            () ->
                new Told(
                    Origin.told(
                        EvidenceRows.of(tx, model.id(), Engine.VERSION),
                        model.name(),
                        c.candidate(),
                        c.baseline(),
                        c.source().source(),
                        policy.materialChangePercent() / 2)))
        .found();
  }

  /** The mean ladders of a model's releases; of passes that count and have a track. */
  public static List<MeanLadder> ladders(Tx tx, ModelId model) {
    return Changes.unmoved(
            tx, List.of(model), Ladders.class, model, () -> new Ladders(worked(tx, model)))
        .all();
  }

  private static List<MeanLadder> worked(Tx tx, ModelId model) {
    Map<FirmwareId, String> versions = new HashMap<>();
    for (Firmware.Known f : Firmware.of(tx, model)) versions.put(f.id(), f.release().version());
    List<MeanLadder.OfPass> passes = new ArrayList<>();
    for (Results.Summary s : Results.ofModel(tx, model, Engine.VERSION))
      if (s.exclusion().isEmpty() && s.onCourse() && s.trackResolvable())
        passes.add(
            new MeanLadder.OfPass(
                versions.getOrDefault(s.firmware(), ""),
                Long.toString(s.session().value()),
                s.ladder(),
                s.distances().referenceM()));
    return MeanLadder.of(passes);
  }

  /** Where along each common course two releases differ. */
  public static List<DifferenceStrip> strips(Tx tx, ModelId model, Findings.OfComparison c) {
    List<PlacedPass> passes = PlaceRows.of(tx, model, c.candidate(), c.baseline(), Engine.VERSION);
    // What counts as material matters for the sentence alone, not for the strip.
    return Origin.of(passes, c.candidate(), c.baseline(), 0).stream().map(Origin::strip).toList();
  }

  /** What an answer is about. */
  private record Between(
      ModelId model, String candidate, String baseline, String source, double material) {
    static Between of(ModelId model, Comparison c, Policy policy) {
      String source = c.source().source().toString();
      double material = policy.materialChangePercent();
      return new Between(model, c.candidate(), c.baseline(), source, material);
    }
  }

  private record Places(List<Origin> all) {}

  private record Told(Optional<DeviceDayCourse> found) {}

  private record Ladders(List<MeanLadder> all) {}

  /** One per course that both were run on; all their sessions, also those after the last look. */
  public static List<Origin> of(Tx tx, ModelId model, Comparison c, Policy policy) {
    return Changes.unmoved(
            tx,
            List.of(model),
            Places.class,
            Between.of(model, c, policy),
            () ->
                new Places(
                    Origin.of(
                        PlaceRows.of(tx, model, c.candidate(), c.baseline(), Engine.VERSION),
                        c.candidate(),
                        c.baseline(),
                        // Half of what matters is worth a word, not a verdict.
                        policy.materialChangePercent() / 2)))
        .all();
  }
}
