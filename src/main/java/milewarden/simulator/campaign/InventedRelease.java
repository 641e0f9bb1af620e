package milewarden.simulator.campaign;

import java.time.LocalDate;
import milewarden.simulator.Receiver;

/**
 * A firmware release of the invented campaign: what it does to distances, and what a watchdog
 * should make of it.
 *
 * @param model the model's name
 * @param releasedOn when the maker put it out
 * @param receiver what every unit with it does
 * @param sessionSpreadPercent standard deviation of the device's own scale from session to session
 * @param sessions how many outings are run with it; 0 for one that is only registered
 * @param injected what was put in, in words
 * @param expected what should be found of it
 * @param due what should be due on it when the campaign ends
 * @param verdictWords what the tester publishes after its last session; empty for no verdict
 */
public record InventedRelease(
    String model,
    String version,
    LocalDate releasedOn,
    Receiver receiver,
    double sessionSpreadPercent,
    int sessions,
    String injected,
    Expected expected,
    ExpectedDue due,
    String verdictWords) {

  /** What the comparison with the anchor should say. */
  public enum Expected {
    /** Nothing to compare with: the first release. */
    BASELINE,
    WORSE,
    BETTER,
    EQUIVALENT,
    CHANGED,
    NOT_SETTLED,
    /** No session was run. */
    UNTESTED
  }

  /** The kind of due item that should be open at the end. */
  public enum ExpectedDue {
    NONE,
    RETEST_DUE,
    VERDICT_UPDATE_DUE
  }
}
