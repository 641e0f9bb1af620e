package milewarden.intake.tag;

import milewarden.track.TagName;

/** A tag that is missing or not understood: the page asks just for it. */
public record Gap(TagName name, Kind kind, String detail) {
  public enum Kind {
    /** Nobody said it. */
    MISSING,
    /** Somebody said something that is not in the vocabulary, or no number. */
    NOT_UNDERSTOOD,
    /** A name that is not known here, such as a course's. */
    UNKNOWN,
    /** A course whose stored line is damaged. */
    UNREAD,
    /** Several fit equally well. */
    AMBIGUOUS
  }
}
