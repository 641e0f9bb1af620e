package milewarden.intake;

import java.util.ArrayList;
import java.util.List;
import milewarden.accuracy.TrackMeasurement;
import milewarden.accuracy.TrackMeasurement.Finding;

/** Warns where a track is judged by a course that was drafted from this very track. */
final class OwnDraft {
  private OwnDraft() {}

  static Fate said(Fate fate, String sha256) {
    return fate.fold(m -> m.course().isDraftedFrom(sha256) ? said(m) : m, t -> t, w -> w, r -> r);
  }

  private static Fate said(Fate.Measured fate) {
    TrackMeasurement found = fate.found();
    List<Finding> findings = new ArrayList<>(found.findings());
    findings.add(new Finding(Finding.Code.OWN_DRAFT, "", ""));
    return new Fate.Measured(
        fate.words(),
        fate.tags(),
        fate.course(),
        new TrackMeasurement(
            found.trackLengthM(),
            found.recordedLengthM(),
            found.recording(),
            found.passes(),
            findings),
        fate.start(),
        fate.end());
  }
}
