package milewarden.intake.sheet;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.intake.tag.TagReader;
import milewarden.intake.tag.TagWords;
import milewarden.store.file.SheetRows;
import milewarden.track.TagName;
import milewarden.track.TagSource;

/** What the rows of field sheets say of the track at one path of the inbox. */
public final class SheetWords {
  private SheetWords() {}

  /**
   * The words of the rows that mean this track; one row speaks for the whole recording, several for
   * its passes in order.
   *
   * @param rows the rows in force that name the track's path, perhaps of several sessions
   * @param date the track's local date, where it has one
   * @param alone true where no other track ever came by this path
   */
  public static List<TagWords> of(
      List<SheetRows.SheetRow> rows, Optional<LocalDate> date, boolean alone) {
    List<SheetRows.SheetRow> its = new ArrayList<>(choose(rows, date, alone));
    its.sort(Comparator.comparing(SheetWords::passOrder).thenComparing(r -> r.words().rowNumber()));
    List<TagWords> words = new ArrayList<>();
    for (int i = 0; i < its.size(); i++) {
      int pass = its.size() == 1 ? TagWords.WHOLE : i + 1;
      SheetRows.Words w = its.get(i).words();
      words.add(new TagWords(pass, TagSource.SHEET, w.tags(), "session.csv, row " + w.rowNumber()));
    }
    return words;
  }

  // Rows without a pass, or with a word for one, keep the order of the sheet behind the numbers.
  private static int passOrder(SheetRows.SheetRow row) {
    return TagReader.parse(row.words().tags().getOrDefault(TagName.PASS, ""), Integer::valueOf)
        .orElse(Integer.MAX_VALUE);
  }

  // A path may be used again, summer after spring: each outing's rows mean their own track.
  private static List<SheetRows.SheetRow> choose(
      List<SheetRows.SheetRow> rows, Optional<LocalDate> date, boolean alone) {
    Map<String, List<SheetRows.SheetRow>> outings = new LinkedHashMap<>();
    for (SheetRows.SheetRow row : rows)
      outings.computeIfAbsent(row.words().key().session(), s -> new ArrayList<>()).add(row);
    List<List<SheetRows.SheetRow>> fitting =
        outings.values().stream().filter(o -> fits(o, date)).toList();
    // With one track only, a slip in the sheet's date is likelier than a sheet for another track.
    if (fitting.isEmpty() && alone) fitting = List.copyOf(outings.values());
    return fitting.stream().max(Comparator.comparing(SheetWords::latest)).orElse(List.of());
  }

  private static boolean fits(List<SheetRows.SheetRow> outing, Optional<LocalDate> date) {
    if (date.isEmpty()) return true;
    for (SheetRows.SheetRow row : outing) {
      String said = row.words().tags().get(TagName.DATE);
      if (said != null && !said.equals(date.get().toString())) return false;
    }
    return true;
  }

  private static java.time.Instant latest(List<SheetRows.SheetRow> outing) {
    return outing.stream()
        .map(SheetRows.SheetRow::receivedAt)
        .max(Comparator.naturalOrder())
        .orElseThrow();
  }
}
