package milewarden.review;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.accuracy.Engine;
import milewarden.store.Id.RunId;
import milewarden.store.Tx;
import milewarden.store.run.EvidenceRows;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.store.run.Sessions;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.Source;
import milewarden.verdict.figures.Evidence;
import milewarden.verdict.figures.FigureSheet;
import milewarden.verdict.place.MeanLadder;

/** The units of an outing side by side, for who asks. */
public final class OutingUnits {
  private OutingUnits() {}

  /**
   * The mean ladder of each unit, named with its firmware; of passes that count and have a track.
   *
   * @param runs of the outing
   * @param results of them
   */
  public static List<MeanLadder> ladders(
      Sessions.Session session, List<Runs.Run> runs, List<Results.Summary> results) {
    Map<RunId, String> names = new HashMap<>();
    for (Runs.Run run : runs)
      if (run.heldFor().isEmpty()) names.put(run.id(), run.unitName() + ", " + run.firmware());
    List<MeanLadder.OfPass> passes = new ArrayList<>();
    for (Results.Summary s : results)
      if (names.containsKey(s.run())
          && s.exclusion().isEmpty()
          && s.onCourse()
          && s.trackResolvable())
        passes.add(
            new MeanLadder.OfPass(
                names.getOrDefault(s.run(), ""),
                session.name(),
                s.ladder(),
                s.distances().referenceM()));
    return MeanLadder.of(passes);
  }

  /**
   * A control unit of the outing: what it read that day and what it reads.
   *
   * @param usual over all its sessions with this firmware
   */
  public record Control(String unit, double meanPercent, ReleaseFigures usual) {}

  /**
   * The control units that were carried and recorded something.
   *
   * @param runs of the outing
   */
  public static List<Control> controls(
      Tx tx, Sessions.Session session, List<Runs.Run> runs, Policy policy) {
    Map<String, Control> controls = new LinkedHashMap<>();
    for (Runs.Run run : runs)
      if (run.control() && !controls.containsKey(run.unitName()))
        control(tx, session, run, policy).ifPresent(c -> controls.put(c.unit(), c));
    return List.copyOf(controls.values());
  }

  private static Optional<Control> control(
      Tx tx, Sessions.Session session, Runs.Run run, Policy policy) {
    // By its file: a control unit's display is seldom read.
    Evidence all =
        Evidence.of(
            Source.RECORDED,
            EvidenceRows.of(tx, run.model(), Engine.VERSION).stream()
                .filter(p -> p.unit().equals(run.unitName()))
                .filter(p -> p.firmware().equals(run.firmware()))
                .toList());
    return all.sessions().stream()
        .filter(s -> s.session().equals(session.name()))
        .findFirst()
        .map(
            day ->
                new Control(
                    run.unitName(),
                    day.meanPercent(),
                    FigureSheet.of(all, Optional.empty(), policy, Optional.empty())));
  }
}
