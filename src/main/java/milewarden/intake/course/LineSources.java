package milewarden.intake.course;

import java.io.ByteArrayInputStream;
import java.util.ArrayList;
import java.util.List;
import milewarden.course.draft.CourseDraft;
import milewarden.course.draft.DraftRequest;
import milewarden.course.draft.DraftResult;
import milewarden.format.TrackFormats;
import milewarden.format.xml.GpxRoutes;
import milewarden.geodesy.Position;
import milewarden.report.IssueWords;
import milewarden.store.file.Contents;
import milewarden.track.Issue;
import milewarden.track.Track;

/**
 * Files from which a first centreline is made: recordings, which are averaged and smoothed, or one
 * line without times or a route, which counts as drawn.
 */
public final class LineSources {
  private final List<List<Position>> recorded = new ArrayList<>();
  private final List<List<Position>> drawn = new ArrayList<>();
  private final List<String> hashes = new ArrayList<>();
  private final List<String> problems = new ArrayList<>();

  /** Reads one file, in whichever format a recording can have. */
  public void add(String name, byte[] bytes) {
    TrackFormats.read(new ByteArrayInputStream(bytes))
        .fold(
            usable -> take(name, bytes, usable.track()),
            bad -> withoutTrack(name, bytes, bad.why()));
  }

  /** A file with routes and no track is a drawn line. */
  private boolean withoutTrack(String name, byte[] bytes, Issue why) {
    GpxRoutes found =
        why.kind() == Issue.Kind.NO_FIXES ? GpxRoutes.read(bytes) : new GpxRoutes(List.of(), 0);
    if (found.unusable() > 0)
      problems.add(
          name
              + ": "
              + found.unusable()
              + " of its route points "
              + (found.unusable() == 1 ? "has" : "have")
              + " no position on the globe. A line with a point missing is"
              + " another line: mend them, or take them out yourself.");
    else if (found.routes().isEmpty()) problems.add(name + ": " + IssueWords.of(why).sentence());
    else for (List<Position> route : found.routes()) takeDrawn(name, route);
    return false;
  }

  private boolean take(String name, byte[] bytes, Track track) {
    List<Position> positions = new ArrayList<>(track.size());
    for (int i = 0; i < track.size(); i++)
      positions.add(new Position(track.latitudesDeg()[i], track.longitudesDeg()[i]));
    if (track.startedAt().isPresent()) {
      recorded.add(positions);
      hashes.add(Contents.sha256(bytes));
      oneLineAlone(name);
    } else takeDrawn(name, positions);
    return true;
  }

  private void takeDrawn(String name, List<Position> positions) {
    drawn.add(positions);
    oneLineAlone(name);
  }

  private void oneLineAlone(String name) {
    if (!drawn.isEmpty() && (drawn.size() > 1 || !recorded.isEmpty()))
      problems.add(
          name
              + ": a line without times is drawn, and one drawn line makes a course by itself. Send"
              + " it alone, or send recordings only.");
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
