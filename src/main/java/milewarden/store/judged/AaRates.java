package milewarden.store.judged;

import java.time.Instant;
import java.util.Optional;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.replay.AaRate;

/** The measured rates of false alarms, each beside those before. */
public final class AaRates {
  private static final String ADD =
      """
      insert into aa_replay (ran_at, engine_version, rates) values (:now, :engine, :rates)""";
  private static final String LATEST =
      """
      select ran_at, engine_version, rates from aa_replay order by id desc limit 1""";

  private AaRates() {}

  /** A rate, when it was measured and on results of which engine. */
  public record Measured(Instant at, String engineVersion, AaRate rate) {}

  public static void add(Tx tx, String engineVersion, AaRate rate) {
    tx.update(ADD)
        .bind("now", tx.now())
        .bind("engine", engineVersion)
        .bind("rates", Json.write(rate))
        .execute();
  }

  public static Optional<Measured> latest(Tx tx) {
    return tx.query(LATEST)
        .map(
            Row.as(
                r ->
                    new Measured(
                        r.instant("ran_at"),
                        r.text("engine_version"),
                        Json.read(r.text("rates"), AaRate.class))))
        .findOne();
  }
}
