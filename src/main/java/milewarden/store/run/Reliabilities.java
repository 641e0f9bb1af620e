package milewarden.store.run;

import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import milewarden.store.Id.ModelId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.PassEvidence.Exclusion.Reason;
import milewarden.verdict.Reliability;

/** Runs of each release and those that failed by the device's doing, with or without a result. */
public final class Reliabilities {
  private static final String OF_MODEL =
      """
      select f.version, x.reason, count(distinct r.id) as n
        from run r
        join unit u on u.id = r.unit_id
        join firmware f on f.id = r.firmware_id
        left join exclusion x on x.id = (
             select min(y.id) from exclusion y where y.run_id = r.id and y.lifted_at is null)
       where u.model_id = :model and not u.control
       group by f.version, x.reason
       order by f.version, x.reason""";

  private Reliabilities() {}

  private record Counted(String firmware, boolean excluded, Reason reason, int runs) {}

  /** By the releases' versions; a run that was left out for another reason counts as a run. */
  public static List<Reliability> of(Tx tx, ModelId model) {
    List<Counted> rows =
        tx.query(OF_MODEL)
            .bind("model", model)
            .map(
                Row.as(
                    r ->
                        new Counted(
                            r.text("version"),
                            r.has("reason"),
                            r.has("reason") ? r.choice("reason", Reason.class) : Reason.INTERRUPTED,
                            r.count("n"))))
            .list();
    Map<String, Map<Reason, Integer>> faults = new LinkedHashMap<>();
    Map<String, Integer> runs = new LinkedHashMap<>();
    for (Counted c : rows) {
      runs.merge(c.firmware(), c.runs(), Integer::sum);
      Map<Reason, Integer> of =
          faults.computeIfAbsent(c.firmware(), k -> new EnumMap<>(Reason.class));
      if (c.excluded() && c.reason().deviceFault()) of.merge(c.reason(), c.runs(), Integer::sum);
    }
    return runs.entrySet().stream()
        .map(
            e ->
                new Reliability(
                    e.getKey(), e.getValue(), faults.getOrDefault(e.getKey(), Map.of())))
        .toList();
  }
}
