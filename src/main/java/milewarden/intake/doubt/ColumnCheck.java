package milewarden.intake.doubt;

import java.util.List;
import java.util.Optional;
import milewarden.format.text.ColumnDoubt;
import milewarden.report.AskedWords;
import milewarden.store.file.Offer;
import milewarden.track.Issue;
import milewarden.track.TagName;

/** What the columns of a table leave open. */
public final class ColumnCheck {
  private ColumnCheck() {}

  /** The question that these issues of a reading raise. */
  public static Optional<Doubt> of(List<Issue> issues) {
    List<ColumnDoubt> open = ColumnDoubt.among(issues);
    if (open.isEmpty()) return Optional.empty();
    return Optional.of(
        Doubt.of(
            TagName.COLUMNS,
            "columns",
            AskedWords.columns(open.stream().map(ColumnDoubt::subject).toList()),
            open.stream().map(d -> new Offer(TagName.COLUMNS, d.subject(), d.answers())).toList()));
  }
}
