package milewarden.review.outing;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import milewarden.accuracy.Engine;
import milewarden.course.Direction;
import milewarden.device.Gait;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.file.SheetRows;
import milewarden.store.file.Tags;
import milewarden.store.judged.Changes;
import milewarden.store.run.EvidenceRows;
import milewarden.store.run.Models;
import milewarden.store.run.Runs;
import milewarden.track.TagName;
import milewarden.verdict.Condition;
import milewarden.verdict.DueItem;
import milewarden.verdict.PassEvidence;

/** The passes of a model and of the controls beside it, for what a sheet can take from them. */
final class LastPasses {
  /** What belongs to a unit and its settings, and is the same from pass to pass. */
  static final Set<TagName> STAYS =
      EnumSet.of(
          TagName.SLOT,
          TagName.MODEL,
          TagName.FIRMWARE,
          TagName.CARRIAGE,
          TagName.LAPS,
          TagName.SHOWN_UNIT,
          TagName.SHOWN_STEP,
          TagName.ROUNDING,
          TagName.BOUNDS,
          TagName.INTERVAL,
          TagName.BAND,
          TagName.START_PROTOCOL,
          TagName.CONTROL,
          TagName.OPERATOR);

  private final List<EvidenceRows.Placed> passes;

  LastPasses(List<EvidenceRows.Placed> passes) {
    this.passes = passes;
  }

  static LastPasses of(Tx tx, ModelId model) {
    return Changes.unmoved(
        tx,
        List.of(model),
        LastPasses.class,
        model,
        () -> new LastPasses(lasting(EvidenceRows.placed(tx, model, Engine.VERSION))));
  }

  private record Place(String unit, String course, Gait gait) {}

  /**
   * Of all passes, in their order, those that a sheet may ask for: the last of each unit on each
   * course in each gait, and those of the last session of the model and of the controls.
   */
  static List<EvidenceRows.Placed> lasting(List<EvidenceRows.Placed> all) {
    Set<Place> places = new HashSet<>();
    Map<Boolean, String> sessions = new HashMap<>();
    List<EvidenceRows.Placed> kept = new ArrayList<>();
    for (int i = all.size() - 1; i >= 0; i--) {
      PassEvidence p = all.get(i).evidence();
      sessions.putIfAbsent(p.control(), p.session());
      Condition there = p.condition();
      boolean last = places.add(new Place(p.unit(), there.course(), there.gait()));
      if (last || p.session().equals(sessions.get(p.control()))) kept.add(0, all.get(i));
    }
    return List.copyOf(kept);
  }

  /** The control units of the last session in which any was carried. */
  List<String> controls() {
    Set<String> units = new TreeSet<>();
    String session = "";
    for (int i = passes.size() - 1; i >= 0; i--) {
      PassEvidence p = passes.get(i).evidence();
      if (!p.control() || !session.isEmpty() && !p.session().equals(session)) continue;
      session = p.session();
      units.add(p.unit());
    }
    return List.copyOf(units);
  }

  /** The last session of the model once more, on the course of its first pass. */
  Optional<DueItem.Outing> repeated(String model) {
    List<PassEvidence> own =
        passes.stream()
            .map(EvidenceRows.Placed::evidence)
            .filter(p -> p.model().equals(model) && !p.control())
            .toList();
    if (own.isEmpty()) return Optional.empty();
    String session = own.get(own.size() - 1).session();
    List<PassEvidence> outing = own.stream().filter(p -> p.session().equals(session)).toList();
    PassEvidence first = outing.get(0);
    Map<String, DueItem.NextRun> runs = new LinkedHashMap<>();
    for (PassEvidence p : outing)
      if (p.condition().course().equals(first.condition().course())
          && p.condition().gait() == first.condition().gait())
        runs.putIfAbsent(p.unit(), new DueItem.NextRun(p.condition(), p.unit(), first.direction()));
    return Optional.of(new DueItem.Outing(Direction.FORWARD, new ArrayList<>(runs.values())));
  }

  /** What its last pass says of a unit: there and so if it was ever, else anywhere. */
  Map<TagName, String> tags(Tx tx, String unit, Condition there) {
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    Optional<Models.Unit> known = Models.findUnit(tx, unit);
    List<EvidenceRows.Placed> from =
        passes.stream().anyMatch(p -> p.evidence().unit().equals(unit))
            ? passes
            : known.map(u -> of(tx, u.model()).passes).orElse(List.of());
    Optional<EvidenceRows.Placed> last = last(from, unit, there);
    last.ifPresent(p -> said(tx, p).forEach(tags::put));
    tags.keySet().retainAll(STAYS);
    boolean elsewhere =
        last.filter(p -> p.evidence().condition().course().equals(there.course())).isEmpty();
    if (elsewhere) tags.remove(TagName.LAPS);
    tags.put(TagName.UNIT, unit);
    known.ifPresent(u -> tags.put(TagName.MODEL, u.modelName()));
    known.filter(Models.Unit::control).ifPresent(u -> tags.put(TagName.CONTROL, "yes"));
    last.ifPresent(
        p -> {
          tags.put(TagName.FIRMWARE, p.evidence().firmware());
          tags.put(TagName.CARRIAGE, p.evidence().condition().carriage().code());
        });
    return tags;
  }

  private static Optional<EvidenceRows.Placed> last(
      List<EvidenceRows.Placed> from, String unit, Condition there) {
    Optional<EvidenceRows.Placed> anywhere = Optional.empty();
    for (int i = from.size() - 1; i >= 0; i--) {
      PassEvidence p = from.get(i).evidence();
      if (!p.unit().equals(unit)) continue;
      boolean same =
          p.condition().course().equals(there.course()) && p.condition().gait() == there.gait();
      if (same) return Optional.of(from.get(i));
      if (anywhere.isEmpty()) anywhere = Optional.of(from.get(i));
    }
    return anywhere;
  }

  private static Map<TagName, String> said(Tx tx, EvidenceRows.Placed pass) {
    Map<TagName, String> said = new EnumMap<>(TagName.class);
    Optional<Runs.Run> run = Runs.find(tx, pass.run());
    run.flatMap(Runs.Run::file)
        .ifPresent(
            file ->
                Tags.winners(Tags.of(tx, file), pass.pass())
                    .forEach((name, tag) -> said.put(name, tag.value())));
    run.flatMap(Runs.Run::row)
        .flatMap(key -> SheetRows.find(tx, key))
        .ifPresent(row -> said.putAll(row.words().tags()));
    return said;
  }
}
