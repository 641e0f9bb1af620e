package milewarden.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import milewarden.accuracy.TrackMeasurement;
import milewarden.accuracy.TrackMeasurement.Finding;
import milewarden.accuracy.reference.ReferenceTrack;
import milewarden.accuracy.reference.ReferenceTrack.Compared;
import milewarden.report.Digits;
import milewarden.report.IssueWords;
import milewarden.report.Said;
import milewarden.report.pass.PositionWords;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.Track;

/**
 * What is known of one track argument of {@code measure}.
 *
 * @param file as given on the command line
 * @param sha256 empty where the file could not be read at all, or nobody asks for it
 * @param measured empty where there is no track
 */
record TrackReport(
    String file, Optional<String> sha256, Optional<Measured> measured, List<Problem> problems) {
  TrackReport {
    problems = List.copyOf(problems);
  }

  /**
   * A track that was read and measured.
   *
   * @param reference its positions against the reference track, where one was named
   */
  record Measured(
      Track track, Drops drops, TrackMeasurement result, Optional<Compared> reference) {}

  /**
   * Something a reader must know.
   *
   * @param code in lower case with dashes: {@code no-course}
   * @param grave whether it makes the exit code 1
   */
  record Problem(
      String code, Optional<String> place, String detail, String message, boolean grave) {

    static Problem of(Issue issue) {
      boolean grave = issue.kind().compareTo(Issue.Kind.TRUNCATED) >= 0;
      return new Problem(
          TrackReport.code(issue.kind()),
          issue.place(),
          issue.detail(),
          IssueWords.of(issue).sentence(),
          grave && issue.kind() != Issue.Kind.ODD_VERSION);
    }

    static Problem of(Finding finding) {
      Said said = IssueWords.of(finding);
      Optional<String> place =
          finding.place().isEmpty() ? Optional.empty() : Optional.of(finding.place());
      boolean grave =
          switch (finding.code()) {
            case NO_COURSE, AMBIGUOUS_COURSE, NO_PASS, TOO_MUCH_JUNK, SHOWN_COUNT_MISMATCH -> true;
            default -> false;
          };
      return new Problem(
          TrackReport.code(finding.code()), place, finding.detail(), said.sentence(), grave);
    }
  }

  /** This report with its positions held against a reference track. */
  TrackReport against(ReferenceTrack reference, Digits digits) {
    if (measured.isEmpty()) return this;
    Measured m = measured.get();
    Compared compared = reference.compare(m.track());
    List<Problem> more = new ArrayList<>(problems);
    if (compared.errors().isEmpty()) {
      String why = PositionWords.nothingInCommon(reference, m.track().startedAt(), digits);
      more.add(new Problem("no-common-time", Optional.empty(), "", why, true));
    }
    Measured with = new Measured(m.track(), m.drops(), m.result(), Optional.of(compared));
    return new TrackReport(file, sha256, Optional.of(with), more);
  }

  static String code(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  /** Whether someone has to look: a file that could not be read, or no pass in it. */
  boolean hasFindings() {
    return measured.isEmpty() || problems.stream().anyMatch(Problem::grave);
  }
}
