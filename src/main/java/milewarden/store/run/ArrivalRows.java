package milewarden.store.run;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import milewarden.store.Id.ModelId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.Arrivals;
import milewarden.verdict.Arrivals.Came;

/** When what belongs to a model's sessions came in, and of which nothing more is planned. */
public final class ArrivalRows {
  /** No policy lets a look wait for longer. */
  private static final Duration LONG_AGO = Duration.ofDays(7);

  private static final String LATELY =
      """
      select s.name, max(r.added_at) as came,
             exists (select 1 from sheet_row w where w.session = s.name and w.is_current)
             and not exists (
                 select 1 from sheet_row w
                  where w.session = s.name and w.is_current and w.file_path <> ''
                    and not exists (
                        select 1 from received_file f
                         where f.path = w.file_path
                           and f.state in ('measured', 'refused', 'duplicate'))) as complete
        from session s
        join run r on r.session_id = s.id
       where s.id in (
             select own.session_id from run own join unit u on u.id = own.unit_id
              where u.model_id = :model)
       group by s.id, s.name
      having max(r.added_at) > :since""";
  private static final String EACH =
      """
      select s.name, r.id as run_id, r.added_at, res.id as result_id
        from session s
        join run r on r.session_id = s.id
        left join measurement ms on ms.run_id = r.id
        left join result res on res.measurement_id = ms.id
       where s.id in (
             select own.session_id from run own join unit u on u.id = own.unit_id
              where u.model_id = :model)
         and exists (
             select 1 from run late where late.session_id = s.id and late.added_at > :since)
       order by r.id, res.id""";
  private static final String MEASURING =
      """
      select exists (select 1 from received_file where state = 'received') as measuring""";

  private ArrivalRows() {}

  /** Of the sessions in which the model was run. */
  public static Arrivals of(Tx tx, ModelId model) {
    Map<String, Instant> came = new HashMap<>();
    Set<String> complete = new HashSet<>();
    tx.query(LATELY)
        .bind("model", model)
        .bind("since", tx.now().minus(LONG_AGO))
        .map(
            Row.as(
                r -> {
                  if (r.flag("complete")) complete.add(r.text("name"));
                  return came.put(r.text("name"), r.instant("came"));
                }))
        .list();
    boolean measuring = tx.query(MEASURING).map(Row.as(r -> r.flag("measuring"))).one();
    return new Arrivals(came, complete, measuring, came.isEmpty() ? Map.of() : each(tx, model));
  }

  private static Map<String, List<Came>> each(Tx tx, ModelId model) {
    Map<Long, Run> runs = new TreeMap<>();
    // Many came in at once, and a moment's text takes longer to read than to find.
    Map<String, Instant> moments = new HashMap<>();
    tx.query(EACH)
        .bind("model", model)
        .bind("since", tx.now().minus(LONG_AGO))
        .map(
            Row.as(
                r -> {
                  Run of = runs.get(r.number("run_id"));
                  if (of == null) {
                    of =
                        new Run(
                            r.text("name"), moment(moments, r.text("added_at")), new ArrayList<>());
                    runs.put(r.number("run_id"), of);
                  }
                  if (r.has("result_id")) of.results().add(r.number("result_id"));
                  return of;
                }))
        .list();
    Map<String, List<Came>> each = new HashMap<>();
    for (Run run : runs.values())
      each.computeIfAbsent(run.session(), k -> new ArrayList<>())
          .add(new Came(run.at(), run.results()));
    return each;
  }

  private static Instant moment(Map<String, Instant> moments, String text) {
    return moments.computeIfAbsent(text, Instant::parse);
  }

  private record Run(String session, Instant at, List<Long> results) {}
}
