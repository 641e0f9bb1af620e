package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.report.trial.DryRunPage;
import milewarden.review.Forecast;
import milewarden.verdict.Policy;
import milewarden.web.Frame;
import milewarden.web.Routes;

/** What other rules would change, before anything is written. */
final class DryRunRoutes implements Routes {
  private final Desk desk;

  DryRunRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/settings/dry-run", this::show);
  }

  private void show(Context http) {
    DryRunPage page =
        Sent.text(http, "try").isEmpty()
            ? DryRunPage.form(DryRunPage.fields(desk.policy()), "")
            : tried(http);
    desk.renderer().show(http, "dryrun", Frame.of("Dry run", "/settings"), page);
  }

  private DryRunPage tried(Context http) {
    Optional<Policy> policy = policy(http);
    if (policy.isEmpty())
      return DryRunPage.form(
          sent(http),
          "A limit is a number of percent above 0 and up to 100, such as 0.5. Mend it and try again.");
    Forecast found = desk.dryRun().policy(policy.get());
    return DryRunPage.of(
        "This policy",
        found.moves(),
        found.models(),
        found.runs(),
        found.lost(),
        found.messages(),
        sent(http),
        desk.digits());
  }

  /** The form's fields with what stands in them. */
  private List<DryRunPage.Field> sent(Context http) {
    return DryRunPage.fields(desk.policy()).stream()
        .map(f -> new DryRunPage.Field(f.name(), f.label(), Sent.text(http, f.name())))
        .toList();
  }

  private Optional<Policy> policy(Context http) {
    List<Policy.Purpose> purposes = new ArrayList<>();
    for (Policy.Purpose each : desk.policy().purposes()) {
      OptionalDouble mean = percent(http, each.code() + ".mean");
      OptionalDouble next = percent(http, each.code() + ".next");
      if (mean.isEmpty() || next.isEmpty()) return Optional.empty();
      purposes.add(new Policy.Purpose(each.code(), mean.getAsDouble(), next.getAsDouble()));
    }
    OptionalDouble material = percent(http, "material");
    if (material.isEmpty()) return Optional.empty();
    return Optional.of(
        desk.policy().withPurposes(purposes).withMaterialChange(material.getAsDouble()));
  }

  private static OptionalDouble percent(Context http, String name) {
    try {
      // A decimal comma is what many people write.
      double value = Double.parseDouble(Sent.text(http, name).replace(',', '.'));
      return value > 0 && value <= 100 ? OptionalDouble.of(value) : OptionalDouble.empty();
    } catch (NumberFormatException e) {
      return OptionalDouble.empty();
    }
  }
}
