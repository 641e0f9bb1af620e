package milewarden.intake.course;

import java.io.ByteArrayInputStream;
import java.util.ArrayList;
import java.util.List;
import milewarden.course.CourseDraft;
import milewarden.course.DraftRequest;
import milewarden.course.DraftResult;
import milewarden.format.TrackFormats;
import milewarden.geodesy.Position;
import milewarden.report.IssueWords;
import milewarden.store.Contents;
import milewarden.track.Track;

/**
 * Files from which a first centreline is made: recordings, which are averaged and smoothed, or one
 * line without times, which counts as drawn.
 */
public final class LineSources {
  private final List<List<Position>> recorded = new ArrayList<>();
  private final List<List<Position>> drawn = new ArrayList<>();
  private final List<String> hashes = new ArrayList<>();
  private final List<String> problems = new ArrayList<>();

  /** Reads one file, in whichever format a recording can have. */
  public void add(String name, byte[] bytes) {
    TrackFormats.read(new ByteArrayInputStream(bytes))
        .fold(usable -> take(name, bytes, usable.track()), bad -> refuse(name, bad.why()));
  }

  private boolean take(String name, byte[] bytes, Track track) {
    List<Position> positions = new ArrayList<>(track.size());
    for (int i = 0; i < track.size(); i++)
      positions.add(new Position(track.latitudesDeg()[i], track.longitudesDeg()[i]));
    if (track.startedAt().isPresent()) {
      recorded.add(positions);
      hashes.add(Contents.sha256(bytes));
    } else drawn.add(positions);
    if (!drawn.isEmpty() && (drawn.size() > 1 || !recorded.isEmpty()))
      problems.add(
          name
              + ": a line without times is drawn, and one drawn line makes a course by itself. Send"
              + " it alone, or send recordings only.");
    return true;
  }

  private boolean refuse(String name, milewarden.track.Issue why) {
    problems.add(name + ": " + IssueWords.of(why).sentence());
    return false;
  }

  /** What is wrong with the files, in sentences that begin with the file. */
  public List<String> problems() {
    return List.copyOf(problems);
  }

  /** The draft; there is one file or more and no problem. */
  public DraftResult draft(DraftRequest request, double toleranceM) {
    return drawn.isEmpty()
        ? CourseDraft.from(recorded, request, Math.max(0.01, toleranceM))
        : CourseDraft.drawn(drawn.get(0), request, toleranceM);
  }

  /** The draft with the hashes of its recordings: judged by it they say nothing. */
  public CourseDraft named(CourseDraft draft) {
    CourseDraft named = draft;
    for (String sha256 : hashes) named = named.withSource(sha256);
    return named;
  }
}
