package milewarden.verdict.replay;

/**
 * The first thing of a capsule that is not as it was published.
 *
 * @param where a file, a pass, a figure; empty where it is the whole
 * @param published as it stands in the capsule; empty where there is no value
 * @param found as it was found again
 */
public record CapsuleFault(What what, String where, String published, String found) {
  /** What is wrong. */
  public enum What {
    /** It is no archive, or not one of ours. */
    NO_CAPSULE,
    FILE_MISSING,
    /** The bytes are not those that were published. */
    HASH_DIFFERS,
    /** A recording or a course file can't be read. */
    UNREADABLE,
    /** How the recording was measured was not kept yet when the verdict was published. */
    OPTIONS_UNKNOWN,
    /** The recording has no such pass now. */
    PASS_MISSING,
    PASS_DIFFERS,
    FIGURE_DIFFERS
  }
}
