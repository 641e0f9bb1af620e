package milewarden.review;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import milewarden.accuracy.Engine;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.judged.Changes;
import milewarden.store.judged.JudgedBriefly;
import milewarden.store.judged.UnitVariances;
import milewarden.store.run.EvidenceRows;
import milewarden.store.run.Models;
import milewarden.verdict.ModelBrief;
import milewarden.verdict.ModelHistory.UnitVariance;
import milewarden.verdict.Policy;
import milewarden.verdict.headtohead.Beside;
import milewarden.verdict.headtohead.HeadToHead;

/** Models held against each other, for who asks. */
public final class SideBySide {
  private SideBySide() {}

  /**
   * A model that can be asked for.
   *
   * @param tested its releases with sessions, newest first
   * @param chosen the one that is held against the others; empty where it is left out
   */
  public record Choice(ModelId model, String name, List<String> tested, Optional<String> chosen) {
    public Choice {
      tested = List.copyOf(tested);
    }

    private Choice leftOut() {
      return new Choice(model, name, tested, Optional.empty());
    }
  }

  /**
   * What was found, and among which models.
   *
   * @param unread names of models that are left out as their judgement is damaged
   */
  public record Found(HeadToHead head, List<Choice> choices, List<String> unread) {
    public Found {
      choices = List.copyOf(choices);
      unread = List.copyOf(unread);
    }
  }

  /**
   * Holds the newest tested release of each model, or the one named, against the others.
   *
   * @param asked models by number or name, {@code 3} or {@code 3@2.1.0}; empty for all but the
   *     controls; what names none is passed over
   */
  public static Found of(Tx tx, List<String> asked, Policy policy) {
    return worked(tx, asked, policy, false);
  }

  /**
   * What can be held against each other where nobody named any: the models that were tested last,
   * without those that have no condition in common with the rest.
   */
  public static Found usual(Tx tx, int most, Policy policy) {
    return worked(tx, testedLast(tx, most), policy, true);
  }

  /**
   * The models that were tested last, by number, as many as a page can hold side by side; all where
   * they are no more.
   */
  private static List<String> testedLast(Tx tx, int most) {
    Map<ModelId, ModelBrief> judged = JudgedBriefly.readable(tx, new ArrayList<>());
    judged.keySet().removeAll(controls(tx));
    judged.values().removeIf(model -> tested(model).isEmpty());
    if (judged.size() <= most) return List.of();
    return judged.entrySet().stream()
        .sorted(
            Comparator.comparing((Map.Entry<ModelId, ModelBrief> e) -> last(e.getValue()))
                .reversed())
        .limit(most)
        .map(e -> String.valueOf(e.getKey().value()))
        .toList();
  }

  private static Instant last(ModelBrief model) {
    return model.releases().stream()
        .filter(ModelBrief.Release::tested)
        .flatMap(r -> r.firstSeen().stream())
        .max(Comparator.naturalOrder())
        .orElse(Instant.EPOCH);
  }

  private static Found worked(Tx tx, List<String> asked, Policy policy, boolean sharing) {
    List<ModelId> unread = new ArrayList<>();
    Map<ModelId, ModelBrief> judged = JudgedBriefly.readable(tx, unread);
    judged.keySet().removeAll(controls(tx));
    List<Choice> choices = new ArrayList<>();
    List<HeadToHead.Release> entrants = new ArrayList<>();
    judged.forEach(
        (id, model) -> {
          List<String> tested = tested(model);
          if (tested.isEmpty()) return;
          Optional<String> chosen = chosen(id, model.model(), tested, asked);
          choices.add(new Choice(id, model.model(), tested, chosen));
          chosen.ifPresent(
              version -> entrants.add(new HeadToHead.Release(id.value(), model.model(), version)));
        });
    Held held = held(tx, entrants, policy, sharing);
    if (held.models.size() < entrants.size())
      choices.replaceAll(c -> held.models.contains(c.model().value()) ? c : c.leftOut());
    return new Found(held.head, choices, Models.names(tx, unread));
  }

  /** What came of holding releases side by side, and of which models they are. */
  private record Held(HeadToHead head, Set<Long> models) {}

  private static Held held(
      Tx tx, List<HeadToHead.Release> entrants, Policy policy, boolean sharing) {
    Optional<UnitVariance> units = UnitVariance.pooled(UnitVariances.all(tx));
    return Changes.unmoved(
        tx,
        entrants.stream().map(e -> new ModelId(e.model())).toList(),
        units.toString(),
        Held.class,
        List.of(entrants, policy, sharing),
        () -> {
          List<Beside.Entrant> all = new ArrayList<>();
          for (HeadToHead.Release e : entrants)
            all.add(
                new Beside.Entrant(e, EvidenceRows.of(tx, new ModelId(e.model()), Engine.VERSION)));
          List<Beside.Entrant> held = sharing ? Beside.sharing(all) : all;
          Set<Long> models = new HashSet<>();
          for (Beside.Entrant e : held) models.add(e.release().model());
          return new Held(Beside.of(held, policy, units), models);
        });
  }

  private static List<String> tested(ModelBrief model) {
    List<String> tested = new ArrayList<>();
    for (ModelBrief.Release r : model.releases())
      if (r.tested()) tested.add(0, r.release().version());
    return tested;
  }

  private static Optional<String> chosen(
      ModelId id, String name, List<String> tested, List<String> asked) {
    if (asked.isEmpty()) return Optional.of(tested.get(0));
    for (String each : asked) {
      if (each.equals(String.valueOf(id.value())) || each.equals(name))
        return Optional.of(tested.get(0));
      for (String version : tested)
        if (each.equals(id.value() + "@" + version) || each.equals(name + "@" + version))
          return Optional.of(version);
    }
    return Optional.empty();
  }

  private static Set<ModelId> controls(Tx tx) {
    Set<ModelId> controls = new HashSet<>();
    Set<ModelId> others = new HashSet<>();
    for (Models.Unit unit : Models.units(tx))
      (unit.control() ? controls : others).add(unit.model());
    controls.removeAll(others);
    return controls;
  }
}
