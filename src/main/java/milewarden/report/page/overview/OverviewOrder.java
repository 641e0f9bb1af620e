package milewarden.report.page.overview;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import milewarden.report.Tone;
import milewarden.report.page.Option;
import milewarden.report.page.model.ModelPage;
import milewarden.verdict.Findings;

/**
 * Which models the overview shows, and in which order: what stands in its address.
 *
 * @param sort {@code due} (most pressing first), {@code name}, {@code error} (largest mean error
 *     first) or {@code spread} (largest first)
 * @param find a part of the model's name, in any case; empty for all
 * @param dueOnly true where a model with nothing to do is left out
 */
public record OverviewOrder(String sort, String find, boolean dueOnly) {
  private static final List<String> SORTS = List.of("due", "name", "error", "spread");

  /** Most pressing first, and all of them. */
  public static final OverviewOrder USUAL = new OverviewOrder("due", "", false);

  public OverviewOrder {
    if (!SORTS.contains(sort)) sort = "due";
    find = find.strip();
  }

  /** A model's row with what it is ordered by. */
  record Ranked(OverviewPage.ModelRow row, Findings judged) {}

  List<OverviewPage.ModelRow> of(List<Ranked> rows) {
    String wanted = find.toLowerCase(Locale.ROOT);
    return rows.stream()
        .filter(r -> r.row().name().toLowerCase(Locale.ROOT).contains(wanted))
        .filter(r -> !dueOnly || r.row().due().tone() != Tone.HOLDS)
        .sorted(comparator())
        .map(Ranked::row)
        .toList();
  }

  private Comparator<Ranked> comparator() {
    return switch (sort) {
      case "name" -> Comparator.comparing(r -> r.row().name());
      case "error" -> Comparator.comparingDouble(r -> -error(r.judged()));
      case "spread" -> Comparator.comparingDouble(r -> -spread(r.judged()));
      default -> Comparator.comparingInt(r -> urgency(r.row().due().tone()));
    };
  }

  private static double error(Findings judged) {
    return ModelPage.newestTested(judged.releases())
        .flatMap(r -> r.pooled())
        .map(f -> Math.abs(f.meanPercent()))
        .orElse(-1.0);
  }

  private static double spread(Findings judged) {
    return ModelPage.newestTested(judged.releases())
        .flatMap(r -> r.pooled())
        .map(f -> f.sdPercent().orElse(-1))
        .orElse(-1.0);
  }

  private static int urgency(Tone tone) {
    return switch (tone) {
      case BROKEN -> 0;
      case WATCH -> 1;
      case UNKNOWN -> 2;
      case HOLDS -> 3;
    };
  }

  /** The choices of the list. */
  public List<Option> sorts() {
    return List.of(
        new Option("due", "most pressing first"),
        new Option("name", "by name"),
        new Option("error", "largest mean error first"),
        new Option("spread", "largest spread first"));
  }

  /** True where not every model is asked for. */
  public boolean filters() {
    return dueOnly || !find.isEmpty();
  }
}
