package milewarden.web.page.settings;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.report.trial.DryRunPage;
import milewarden.review.DryRun;
import milewarden.review.Forecast;
import milewarden.review.Trials;
import milewarden.verdict.Policy;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** What other rules would change, before anything is written. */
public final class DryRunRoutes implements Routes {
  private static final String ADDRESS = "/settings/dry-run/";
  // A reader waits so long without wondering; a small lab's history is judged by then.
  private static final Duration AT_ONCE = Duration.ofSeconds(1);

  private final Desk desk;

  public DryRunRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/settings/dry-run", this::form);
    config.routes.post("/settings/dry-run", this::file);
    config.routes.post("/settings/dry-run/course", this::course);
    config.routes.post("/settings/dry-run/engine", this::engine);
    config.routes.get("/settings/dry-run/{number}", this::show);
  }

  private void form(Context http) {
    if (Sent.text(http, "try").isEmpty()) {
      render(http, DryRunPage.form(DryRunPage.fields(desk.policy()), "").with("", "", earlier(0)));
      return;
    }
    Optional<Policy> policy = policy(http);
    if (policy.isPresent()) begin(http, new Trials.Change.OfPolicy(policy.get(), ""));
    else
      render(
          http,
          DryRunPage.form(
              sent(http),
              "A limit is a number of percent above 0 and up to 100, such as 0.5. Mend it and try"
                  + " again."));
  }

  private void file(Context http) {
    String text = String.valueOf(http.formParam("policy"));
    List<String> problems = new ArrayList<>();
    Policy policy = desk.policyFile().read(text, problems);
    if (problems.isEmpty()) begin(http, new Trials.Change.OfPolicy(policy, text));
    else
      render(
          http,
          DryRunPage.form(DryRunPage.fields(desk.policy()), String.join(" ", problems))
              .with(text, "", List.of()));
  }

  private void course(Context http) {
    String text = String.valueOf(http.formParam("course"));
    Trials.Begun begun = desk.trials().beginCourse(text);
    if (begun.number().isPresent()) at(http, begun.number().getAsInt());
    else
      render(
          http,
          DryRunPage.form(DryRunPage.fields(desk.policy()), begun.refusal())
              .with("", text, List.of()));
  }

  private void engine(Context http) {
    begin(http, new Trials.Change.OfEngine());
  }

  private void begin(Context http, Trials.Change change) {
    at(http, desk.trials().begin(change));
  }

  private void at(Context http, int number) {
    desk.trials().wait(number, AT_ONCE);
    http.redirect(ADDRESS + number);
  }

  private void show(Context http) {
    int number = (int) Sent.part(http, "number");
    Trials.Trial trial = desk.trials().find(number).orElseThrow(() -> Sent.missing("dry run"));
    if (!trial.over()) http.header("Refresh", "2");
    String policy = trial.change().fold(p -> p.pasted(), c -> "", () -> "");
    String course = trial.change().fold(p -> "", c -> c.pasted(), () -> "");
    render(http, page(trial).with(policy, course, earlier(number)));
  }

  private DryRunPage page(Trials.Trial trial) {
    List<DryRunPage.Field> fields =
        DryRunPage.fields(
            trial.change().fold(p -> p.policy(), c -> desk.policy(), () -> desk.policy()));
    if (trial.failed())
      return DryRunPage.form(
          fields, "It broke off before its end; the log says why. Try it again.");
    if (trial.found().isEmpty())
      return DryRunPage.underWay(
          trial.step() == DryRun.Step.MEASURING_RUNS,
          trial.done(),
          trial.of(),
          fields,
          desk.digits());
    Forecast found = trial.found().get();
    return DryRunPage.of(
        trial
            .change()
            .fold(
                p -> "This policy",
                c -> "This version of " + c.version().slug(),
                () -> "This engine"),
        found.moves(),
        found.models(),
        found.runs(),
        found.lost(),
        found.messages(),
        fields,
        desk.digits());
  }

  private List<DryRunPage.Link> earlier(int but) {
    return desk.trials().all().stream()
        .filter(t -> t.number() != but)
        .map(
            t ->
                new DryRunPage.Link(
                    ADDRESS + t.number(), "Dry run " + t.number() + ": " + words(t)))
        .toList();
  }

  private String words(Trials.Trial trial) {
    return page(trial).sentence();
  }

  private void render(Context http, DryRunPage page) {
    desk.renderer().show(http, "dryrun", Frame.of("Dry run", "/settings"), page);
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
