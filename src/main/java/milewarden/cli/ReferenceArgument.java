package milewarden.cli;

import java.io.ByteArrayInputStream;
import java.nio.file.Path;
import java.util.Optional;
import milewarden.accuracy.reference.ReferenceTrack;
import milewarden.format.TrackFormats;
import milewarden.report.IssueWords;
import milewarden.report.pass.PositionWords;

/**
 * The reference track named on the command line.
 *
 * @param track empty where the file is of no use
 * @param why it is of no use: one line with the file, what and what to do; else empty
 */
record ReferenceArgument(Optional<ReferenceTrack> track, String why) {
  /** Nothing was named. */
  static final ReferenceArgument NONE = new ReferenceArgument(Optional.empty(), "");

  /**
   * Reads it whole.
   *
   * @throws java.io.UncheckedIOException with a sentence that names the file
   */
  static ReferenceArgument read(Path file) {
    return TrackFormats.read(new ByteArrayInputStream(CourseArgument.bytes(file)))
        .fold(
            usable -> {
              ReferenceTrack track = ReferenceTrack.of(usable.track());
              return track.startedAt().isPresent()
                  ? new ReferenceArgument(Optional.of(track), "")
                  : useless(file, PositionWords.noTimes());
            },
            refused -> useless(file, IssueWords.of(refused.why()).sentence()));
  }

  private static ReferenceArgument useless(Path file, String why) {
    return new ReferenceArgument(Optional.empty(), file + ": " + why);
  }
}
