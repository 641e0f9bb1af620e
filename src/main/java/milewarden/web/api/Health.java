package milewarden.web.api;

import io.javalin.http.Context;
import io.prometheus.metrics.core.metrics.GaugeWithCallback;
import io.prometheus.metrics.expositionformats.PrometheusTextFormatWriter;
import io.prometheus.metrics.model.registry.PrometheusRegistry;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import java.util.function.Supplier;
import milewarden.report.page.settings.HealthLines;
import milewarden.store.Database;
import milewarden.store.Queues;
import milewarden.store.StoreUnavailable;
import milewarden.store.Tx;
import milewarden.store.file.Standings;
import milewarden.store.file.Standings.Standing;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Marks;
import milewarden.store.told.Outbox;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Whether the server can do its work, and how long its queues are. */
final class Health {
  private static final Logger LOG = LoggerFactory.getLogger(Health.class);
  private static final int UNAVAILABLE = 503;
  // Who reads more than these reads the Intake page.
  private static final int MOST_REASONS = 20;

  private final Database database;
  private final Supplier<List<String>> troubles;
  private final PrometheusRegistry registry = new PrometheusRegistry();
  private final PrometheusTextFormatWriter text = PrometheusTextFormatWriter.create();

  /**
   * @param troubles sentences about what does not work now, apart from the store, for anybody;
   *     empty where all does
   */
  Health(Database database, Supplier<List<String>> troubles) {
    this.database = database;
    this.troubles = troubles;
    for (Standing standing : Standing.values())
      gauge(
          "milewarden_files_" + standing.name().toLowerCase(Locale.ROOT),
          "files that stand so; off course: refused, and taken in as soon as a course fits",
          tx -> Standings.counts(tx).getOrDefault(standing, 0));
    for (Outbox.State state : Outbox.State.values())
      gauge(
          "milewarden_messages_" + state.name().toLowerCase(Locale.ROOT),
          "messages in this state",
          tx -> Outbox.count(tx, state));
    for (Queues.Queue queue : Queues.Queue.values())
      gauge(
          "milewarden_oldest_" + queue.name().toLowerCase(Locale.ROOT) + "_seconds",
          "for how long the first in this queue has waited; 0 where none waits",
          tx -> Queues.of(tx, queue).age(tx.now()).toMillis() / 1000.0);
    gauge("milewarden_models_to_judge", "models whose runs changed", Marks::count);
    gauge("milewarden_due_open", "due items that are open", tx -> DueItems.open(tx).size());
    gauge("milewarden_runs", "runs", milewarden.store.run.Runs::count);
  }

  private void gauge(String name, String help, Function<Tx, ? extends Number> count) {
    GaugeWithCallback.builder()
        .name(name)
        .help(help)
        .callback(callback -> callback.call(database.read(count::apply).doubleValue()))
        .register(registry);
  }

  /** The state of the server; reasons where it is not ready. */
  record State(String status, List<String> reasons) {
    State {
      reasons = List.copyOf(reasons);
    }
  }

  void health(Context http) {
    List<String> all = troubles.get();
    List<String> reasons = new ArrayList<>(all.subList(0, Math.min(all.size(), MOST_REASONS)));
    if (all.size() > MOST_REASONS) reasons.add("And " + (all.size() - MOST_REASONS) + " more.");
    try {
      int runs = database.read(tx -> milewarden.store.run.Runs.count(tx));
      if (runs < 0) throw new IllegalStateException("runs: " + runs);
    } catch (StoreUnavailable e) {
      // Whoever asks may have no right to know where it lies.
      LOG.warn("{}", e.getMessage());
      reasons.add(HealthLines.STORE);
    }
    http.status(reasons.isEmpty() ? 200 : UNAVAILABLE);
    http.header("Cache-Control", "no-store");
    Answers.json(http, new State(reasons.isEmpty() ? "ready" : "not ready", reasons));
  }

  void metrics(Context http) throws IOException {
    http.contentType(text.getContentType());
    text.write(http.outputStream(), registry.scrape());
  }
}
