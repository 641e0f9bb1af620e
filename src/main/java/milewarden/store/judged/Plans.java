package milewarden.store.judged;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.store.Id.ModelId;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.CampaignPlan;

/**
 * Plans of campaigns: written once each, a later one replaces an earlier one until the first file
 * of its firmware is in; none is changed or deleted.
 */
public final class Plans {
  private static final String ADD =
      """
      insert into campaign_plan (model_id, firmware, planned_at, planned_by, record)
      values (:model, :firmware, :at, :by, :record)""";
  private static final String OF_RELEASE =
      """
      select record from campaign_plan
       where model_id = :model and firmware = :firmware order by id""";
  private static final String OF_MODEL =
      "select record from campaign_plan where model_id = :model order by id";
  private static final String FIRST_RUN =
      """
      select min(r.added_at) as first from run r
        join unit u on u.id = r.unit_id
        join firmware f on f.id = r.firmware_id
       where u.model_id = :model and f.version = :firmware""";

  private Plans() {}

  public static void put(Tx tx, ModelId model, CampaignPlan plan) {
    tx.update(ADD)
        .bind("model", model)
        .bind("firmware", plan.firmware())
        .bind("at", plan.at())
        .bind("by", plan.by())
        .bind("record", Json.write(plan))
        .execute();
  }

  /** All plans of a release in order of time; the last one is in force. */
  public static List<CampaignPlan> of(Tx tx, ModelId model, String firmware) {
    return tx.query(OF_RELEASE)
        .bind("model", model)
        .bind("firmware", firmware)
        .map(Row.as(r -> Json.read(r.text("record"), CampaignPlan.class)))
        .list();
  }

  /** All plans of a model in order of time. */
  public static List<CampaignPlan> of(Tx tx, ModelId model) {
    return tx.query(OF_MODEL)
        .bind("model", model)
        .map(Row.as(r -> Json.read(r.text("record"), CampaignPlan.class)))
        .list();
  }

  /** The plan in force. */
  public static Optional<CampaignPlan> find(Tx tx, ModelId model, String firmware) {
    return of(tx, model, firmware).stream().reduce((a, b) -> b);
  }

  /** When the release's first run was taken in: from then on its plan is locked. */
  public static Optional<Instant> lockedAt(Tx tx, ModelId model, String firmware) {
    return tx.query(FIRST_RUN)
        .bind("model", model)
        .bind("firmware", firmware)
        .map(Row.as(r -> r.instantIfAny("first")))
        .one();
  }
}
