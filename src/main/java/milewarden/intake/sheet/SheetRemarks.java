package milewarden.intake.sheet;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import milewarden.intake.tag.Gap;
import milewarden.intake.tag.GapWords;
import milewarden.report.SheetWords;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.track.SheetProblem;

/** What the tester must know of a sheet that was taken. */
public final class SheetRemarks {
  // A page shows a few; the sheet's other mistakes are counted.
  private static final int MOST = 10;

  private final List<String> sentences = new ArrayList<>();

  public SheetRemarks(List<SheetProblem> problems) {
    problems.forEach(p -> sentences.add(SheetWords.of(p).sentence()));
  }

  /** A row without a track that lacks something. */
  public void needs(int row, List<Gap> gaps) {
    if (!gaps.isEmpty()) sentences.add("Row " + row + ": " + GapWords.of(gaps));
  }

  /** A row whose reading is of another order than its course. */
  public void farOff(int row) {
    sentences.add(
        "Row "
            + row
            + ": the distance shown is more than twice, or less than half, of what the course is"
            + " long. It counts as it stands: mend the number, its unit or the laps, or say in notes"
            + " that it is so.");
  }

  public Optional<Reason> reason() {
    if (sentences.isEmpty()) return Optional.empty();
    List<String> shown = sentences.subList(0, Math.min(MOST, sentences.size()));
    String more =
        sentences.size() > MOST ? " And " + (sentences.size() - MOST) + " remarks more." : "";
    return Optional.of(new Reason("sheet-remarks", "", String.join(" ", shown) + more));
  }

  public static Reason refused(SheetProblem why) {
    String code = why.kind().name().toLowerCase(Locale.ROOT).replace('_', '-');
    String place = why.row() > 0 ? "row " + why.row() : "";
    return new Reason("sheet-" + code, place, SheetWords.of(why).sentence());
  }
}
