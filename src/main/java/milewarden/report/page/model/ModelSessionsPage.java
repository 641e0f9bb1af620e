package milewarden.report.page.model;

import java.util.ArrayList;
import java.util.List;
import milewarden.report.Digits;
import milewarden.report.page.ConditionNames;
import milewarden.report.page.Links;
import milewarden.verdict.ModelExcerpt;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.SessionFigure;

/**
 * All sessions of a model, a part at a time.
 *
 * @param link to the model
 * @param sessions newest release first, and in it the newest session
 * @param newer where the part before is; empty text at the beginning
 * @param older where the next part is; empty text at the end
 */
public record ModelSessionsPage(
    String name,
    String link,
    String sentence,
    String shared,
    List<Row> sessions,
    String newer,
    String older) {
  public ModelSessionsPage {
    sessions = List.copyOf(sessions);
  }

  /** A session of a release in one condition. */
  public record Row(
      String date, String link, String firmware, String condition, String error, String units) {}

  private record Placed(String firmware, SessionFigure session, SessionFigure.OfCondition each) {}

  /**
   * The page.
   *
   * @param from which row is the first; 0 is the newest
   * @param most rows on it
   */
  public static ModelSessionsPage of(
      long id, ModelJudgement judged, int from, int most, Digits digits) {
    ConditionNames names = ConditionNames.of(ModelExcerpt.whole(judged).conditions());
    List<Placed> all = placed(judged);
    int first = Math.min(Math.max(0, from), all.size());
    int end = first + Math.min(most, all.size() - first);
    long sessions = judged.releases().stream().mapToLong(r -> r.sessions().size()).sum();
    String here = Links.sessions(id);
    return new ModelSessionsPage(
        judged.model(),
        Links.model(id),
        digits.counted(sessions, "session") + " of " + judged.model() + ", the newest first",
        names.shared(),
        all.subList(first, end).stream().map(p -> row(p, names, digits)).toList(),
        first > 0 ? here + "?from=" + Math.max(0, first - most) : "",
        end < all.size() ? here + "?from=" + end : "");
  }

  /** The rows of those sessions that are here, newest first. */
  static List<Row> rows(ModelJudgement judged, ConditionNames names, Digits digits) {
    return placed(judged).stream().map(p -> row(p, names, digits)).toList();
  }

  private static List<Placed> placed(ModelJudgement judged) {
    List<Placed> all = new ArrayList<>();
    for (int i = judged.releases().size() - 1; i >= 0; i--) {
      ReleaseJudgement r = judged.releases().get(i);
      for (int s = r.sessions().size() - 1; s >= 0; s--) {
        SessionFigure session = r.sessions().get(s);
        for (int c = session.conditions().size() - 1; c >= 0; c--)
          all.add(new Placed(r.release().version(), session, session.conditions().get(c)));
      }
    }
    return all;
  }

  private static Row row(Placed p, ConditionNames names, Digits digits) {
    return new Row(
        digits.date(p.session().date()),
        Links.session(p.session().session()),
        p.firmware(),
        names.of(p.each().condition()),
        digits.percent(p.each().meanPercent(), 2),
        String.join(", ", p.session().units()));
  }
}
