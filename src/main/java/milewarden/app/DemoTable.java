package milewarden.app;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.page.DemoPage;
import milewarden.simulator.campaign.Campaign;
import milewarden.simulator.campaign.InventedRelease;
import milewarden.simulator.campaign.InventedRelease.Expected;
import milewarden.simulator.campaign.InventedRelease.ExpectedDue;
import milewarden.store.Database;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.run.Models;
import milewarden.units.PercentRange;
import milewarden.verdict.Comparison.Because;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.DueItem;
import milewarden.verdict.ReleaseJudgement;

/** Holds what was put into the invented campaign against what was found and is due. */
final class DemoTable {
  private final Campaign campaign;
  private final DemoRecord record;
  private final List<List<DemoPage.CourseError>> errors = new ArrayList<>();

  DemoTable(Campaign campaign, DemoRecord record) {
    this.campaign = campaign;
    this.record = record;
    for (InventedRelease r : campaign.releases()) errors.add(errors(r));
  }

  private List<DemoPage.CourseError> errors(InventedRelease release) {
    List<Double> percent = campaign.injectedPercent(release);
    List<DemoPage.CourseError> all = new ArrayList<>();
    for (int i = 0; i < percent.size(); i++)
      all.add(new DemoPage.CourseError(campaign.courses().get(i).name(), percent.get(i)));
    return all;
  }

  /** Every release with what is due on it now. */
  List<DemoPage.Release> releases(Database database) {
    List<DemoPage.Release> all = new ArrayList<>();
    for (int i = 0; i < campaign.releases().size(); i++) {
      InventedRelease r = campaign.releases().get(i);
      all.add(
          new DemoPage.Release(
              r.model(),
              r.version(),
              r.injected(),
              errors.get(i),
              r.sessions(),
              outcome(r.expected()),
              due(r.due()),
              record.of(r.model(), r.version()).map(DemoTable::found),
              open(database, r),
              judged(database, r)));
    }
    return all;
  }

  private static List<DueItem.Kind> open(Database database, InventedRelease release) {
    return database.read(
        tx ->
            Models.find(tx, release.model()).stream()
                .flatMap(m -> DueItems.open(tx, m.id()).stream())
                .map(DueItems.Due::item)
                .filter(item -> item.firmware().equals(release.version()))
                .map(DueItem::kind)
                .toList());
  }

  private static Optional<ReleaseJudgement> judged(Database database, InventedRelease release) {
    return database.read(
        tx ->
            Models.find(tx, release.model())
                .flatMap(m -> Judgements.find(tx, m.id()))
                .flatMap(
                    j ->
                        j.releases().stream()
                            .filter(r -> r.release().version().equals(release.version()))
                            .findFirst()));
  }

  private static DemoPage.Found found(DemoRecord.Found f) {
    return new DemoPage.Found(
        Outcome.valueOf(f.outcome()),
        Because.valueOf(f.because()),
        f.against(),
        f.sessions(),
        f.percent(),
        new PercentRange(f.lowPercent(), f.highPercent()));
  }

  private static Optional<Outcome> outcome(Expected expected) {
    return switch (expected) {
      case BASELINE, UNTESTED -> Optional.empty();
      case WORSE -> Optional.of(Outcome.WORSE);
      case BETTER -> Optional.of(Outcome.BETTER);
      case EQUIVALENT -> Optional.of(Outcome.EQUIVALENT);
      case CHANGED -> Optional.of(Outcome.CHANGED);
      case NOT_SETTLED -> Optional.of(Outcome.NOT_SETTLED);
    };
  }

  private static Optional<DueItem.Kind> due(ExpectedDue due) {
    return switch (due) {
      case NONE -> Optional.empty();
      case RETEST_DUE -> Optional.of(DueItem.Kind.RETEST_DUE);
      case VERDICT_UPDATE_DUE -> Optional.of(DueItem.Kind.VERDICT_UPDATE_DUE);
    };
  }

  /** The page as a table of plain text, each release on three lines. */
  static void print(DemoPage page, PrintWriter out) {
    out.println(page.sentence());
    for (DemoPage.Row row : page.rows()) {
      out.printf("%n%s %s  [%s]%n", row.model(), row.firmware(), row.right().word());
      out.println("  put in:    " + row.injected() + " (" + String.join(", ", row.errors()) + ")");
      out.println("  expected:  " + row.expected() + "; due: " + row.expectedDue());
      String mean = row.mean().isEmpty() ? "" : ", " + row.mean();
      String change = row.change().isEmpty() ? "" : " (" + row.change() + ")";
      out.println("  found:     " + row.found().word() + mean + change + "; due: " + row.due());
    }
    out.println();
    out.flush();
  }
}
