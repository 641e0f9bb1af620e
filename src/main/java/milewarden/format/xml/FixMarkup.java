package milewarden.format.xml;

/** How a format writes a fix: its element, and what the values in it are. */
interface FixMarkup {
  /** Local name of the element of a fix. */
  String element();

  /** What an attribute of the fix's own element is; one that is only counted is OTHER. */
  FixField attribute(String name);

  /**
   * What the text of an element inside the fix is.
   *
   * @param child whether it is a child of the fix's element, not deeper
   */
  FixField text(String name, boolean child);
}
