package milewarden.intake;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.accuracy.reference.ReferenceTrack;
import milewarden.intake.doubt.Answered;
import milewarden.report.Digits;
import milewarden.report.page.run.PositionsPart;
import milewarden.store.Id.FileId;
import milewarden.store.Tx;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.Tags;
import milewarden.store.run.ReferenceTracks;
import milewarden.store.run.Runs;
import milewarden.track.TagName;
import milewarden.track.Track;

/**
 * A run's positions against the reference tracks of its session. Worked out from the bytes when it
 * is asked for, so it does not matter which of them came first.
 */
public final class CarriedAlong {
  private CarriedAlong() {}

  /** One for each reference track that was carried at the time of the run, in order of time. */
  public static List<PositionsPart> of(Tx tx, Runs.Run run, Digits digits) {
    List<ReferenceTracks.Kept> kept = ReferenceTracks.ofSession(tx, run.facts().session());
    if (kept.isEmpty() || run.file().isEmpty()) return List.of();
    Optional<Track> recording =
        ReceivedFiles.find(tx, run.file().get())
            .flatMap(f -> read(tx, f.id(), f.sha256(), digits.zone()));
    if (recording.isEmpty()) return List.of();
    List<PositionsPart> parts = new ArrayList<>();
    for (ReferenceTracks.Kept k : kept) {
      // What was a run once is not held against itself.
      if (k.file().equals(run.file().get())) continue;
      read(tx, k.file(), k.sha256(), digits.zone())
          .map(t -> ReferenceTrack.of(t).compare(recording.get()))
          .flatMap(c -> PositionsPart.of(k.path(), k.sha256(), c, digits))
          .ifPresent(parts::add);
    }
    return parts;
  }

  private static Optional<Track> read(Tx tx, FileId file, String sha256, ZoneId zone) {
    return Contents.isKept(tx, sha256)
        ? answers(tx, file, zone).track(() -> Contents.open(tx, sha256).orElseThrow())
        : Optional.empty();
  }

  /** What the tester answered of a file, as it is stored. */
  public static Answered answers(Tx tx, FileId file, ZoneId zone) {
    Map<TagName, Tags.Tag> held = Tags.winners(Tags.of(tx, file), Tags.WHOLE);
    return new Answered(name -> Optional.ofNullable(held.get(name)).map(Tags.Tag::value), zone);
  }
}
