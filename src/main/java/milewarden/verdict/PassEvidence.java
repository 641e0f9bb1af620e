package milewarden.verdict;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import milewarden.accuracy.Errors;
import milewarden.course.Direction;

/**
 * One measured pass as the judge sees it.
 *
 * @param resultId the stored result, named as evidence
 * @param session key of the outing
 * @param sessionStart the first start within the outing, the same for all its passes: sessions
 *     count in this order
 * @param date local date of the outing
 * @param unit the physical unit
 * @param control true where this unit is a control, its firmware left alone
 * @param referenceM R of the pass
 * @param referenceStandardUncertaintyPercent u_ref of the course in percent of the length
 * @param displayStepM step of the display in metres; NaN where nothing was shown
 * @param exclusion why the pass does not count; empty where it does
 */
public record PassEvidence(
    long resultId,
    String session,
    Instant sessionStart,
    LocalDate date,
    String model,
    String unit,
    boolean control,
    String firmware,
    Condition condition,
    Direction direction,
    Errors errors,
    double referenceM,
    double referenceStandardUncertaintyPercent,
    double displayStepM,
    Optional<Exclusion> exclusion) {

  /** The same pass as another result. */
  public PassEvidence withResultId(long id) {
    return new PassEvidence(
        id,
        session,
        sessionStart,
        date,
        model,
        unit,
        control,
        firmware,
        condition,
        direction,
        errors,
        referenceM,
        referenceStandardUncertaintyPercent,
        displayStepM,
        exclusion);
  }

  /** The same pass of a release of another name. */
  public PassEvidence withFirmware(String version) {
    return new PassEvidence(
        resultId,
        session,
        sessionStart,
        date,
        model,
        unit,
        control,
        version,
        condition,
        direction,
        errors,
        referenceM,
        referenceStandardUncertaintyPercent,
        displayStepM,
        exclusion);
  }

  /** Closed list of the reasons for which a pass may be left out, with a word by whom and when. */
  public record Exclusion(Reason reason, String by, Instant at, String words) {
    /** Never because it is far off. */
    public enum Reason {
      WRONG_COURSE,
      WRONG_SETTINGS,
      INTERRUPTED,
      DEVICE_FAULT,
      /** A device fault: it found no position. */
      NO_FIX,
      /** A device fault: it stopped or started anew on its own. */
      CRASH,
      /** A device fault: the run was made, its recording is gone. */
      LOST_FILE;

      /** True where it was the device's doing: counted as its reliability. */
      public boolean deviceFault() {
        return compareTo(DEVICE_FAULT) >= 0;
      }
    }
  }
}
