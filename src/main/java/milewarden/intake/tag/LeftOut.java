package milewarden.intake.tag;

import milewarden.track.TagSource;
import milewarden.verdict.PassEvidence.Exclusion;

/** That a pass is not to count, and whose word that is. */
public record LeftOut(Exclusion.Reason reason, TagSource source) {
  /** Who leaves it out, as it is kept and shown. */
  public String by() {
    return by(source);
  }

  /** How exclusions of a source are signed. */
  public static String by(TagSource source) {
    return switch (source) {
      case EDIT -> "the tester";
      case SHEET -> "session.csv";
      case SIDECAR -> "tags.yaml";
      case FOLDER, FILE, RECOGNISED, DEFAULT -> "milewarden.yaml";
    };
  }
}
