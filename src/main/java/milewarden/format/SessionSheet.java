package milewarden.format;

import java.util.Optional;
import milewarden.track.SheetProblem;
import milewarden.track.SheetRead;

/** The field sheet of a session, {@code session.csv}: a header row, one row per track or pass. */
public final class SessionSheet {
  private SessionSheet() {}

  /** Reads a sheet; a bad row or cell is reported and the others go on. */
  public static SheetRead read(byte[] bytes) {
    return new SheetRead.Refused(
        new SheetProblem(SheetProblem.Kind.EMPTY, 0, Optional.empty(), ""));
  }
}
