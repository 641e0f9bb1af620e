package milewarden.format.xml;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;

/**
 * Finds the shape of a fix in its bytes. That its markup is sound is for the parser to say, who
 * gets the same bytes: here only plain markup is followed, and anything else has no shape.
 */
final class ShapeScan {
  private final FixMarkup markup;
  private final byte[] text;
  private final int end;
  private final List<byte[]> alike = new ArrayList<>();
  private final List<FixField> values = new ArrayList<>();
  private final EnumSet<FixField> known = EnumSet.noneOf(FixField.class);
  private String opened = "";
  private int at;
  private int alikeFrom;
  private int depth;
  private int deepest;

  private ShapeScan(FixMarkup markup, byte[] text, int start, int end) {
    this.markup = markup;
    this.text = text;
    this.end = end;
    at = start;
    alikeFrom = start;
  }

  /** Not plain markup, or not all of it there. */
  private static final class NoShape extends RuntimeException {
    private static final long serialVersionUID = 1;

    NoShape() {
      super(null, null, false, false);
    }
  }

  /**
   * A fix whose element begins at the start.
   *
   * @param end of what is there of the file, or of what a fix may be long
   */
  static Optional<FixShape> of(FixMarkup markup, byte[] text, int start, int end) {
    try {
      return Optional.of(new ShapeScan(markup, text, start, end).scan());
    } catch (NoShape e) {
      return Optional.empty();
    }
  }

  private FixShape scan() {
    startTag();
    while (depth > 0) {
      blanks();
      if (sign() != '<') throw new NoShape();
      if (peek(1) == '/') endTag();
      else if (startTag()) leaf();
      else if (field() == FixField.UNFIT) throw new NoShape();
    }
    boolean placed = known.contains(FixField.LATITUDE) && known.contains(FixField.LONGITUDE);
    if (!placed) throw new NoShape();
    alike.add(Arrays.copyOfRange(text, alikeFrom, at));
    for (byte[] part : alike) check(part);
    return new FixShape(alike, values, deepest);
  }

  /** No break but line feeds, and no sign whose bytes a parser might take for others. */
  private static void check(byte[] part) {
    for (int i = 0; i < part.length; i++) {
      boolean control = part[i] < ' ' && part[i] != '\n' && part[i] != '\t' && part[i] != '\r';
      boolean half = part[i] == '\r' && (i + 1 == part.length || part[i + 1] != '\n');
      if (control || half || part[i] == 0x7f) throw new NoShape();
    }
  }

  private byte sign() {
    return peek(0);
  }

  private byte peek(int ahead) {
    if (at + ahead >= end) throw new NoShape();
    return text[at + ahead];
  }

  private void blanks() {
    while (sign() == ' ' || sign() == '\n' || sign() == '\t' || sign() == '\r') at++;
  }

  private String name() {
    int from = at;
    while (isOfName(sign())) at++;
    if (at == from) throw new NoShape();
    return new String(text, from, at - from, StandardCharsets.US_ASCII);
  }

  private static String local(String name) {
    return name.substring(name.indexOf(':') + 1);
  }

  private static boolean isOfName(byte b) {
    boolean letter = b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z';
    return letter || b >= '0' && b <= '9' || b == ':' || b == '_' || b == '-' || b == '.';
  }

  private void value(FixField field, int from, int to) {
    if (field == FixField.UNFIT || field != FixField.OTHER && !known.add(field))
      throw new NoShape();
    alike.add(Arrays.copyOfRange(text, alikeFrom, from));
    values.add(field);
    alikeFrom = to;
  }

  /** Whether the element is open behind it, and not empty. */
  private boolean startTag() {
    at++;
    opened = local(name());
    while (true) {
      blanks();
      if (sign() == '>') {
        at++;
        depth++;
        deepest = Math.max(deepest, depth);
        return true;
      }
      if (sign() == '/') {
        if (peek(1) != '>' || depth == 0) throw new NoShape();
        at += 2;
        deepest = Math.max(deepest, depth + 1);
        return false;
      }
      attribute();
    }
  }

  private void attribute() {
    String name = name();
    if (sign() != '=') throw new NoShape();
    at++;
    byte quote = sign();
    if (quote != '"' && quote != '\'') throw new NoShape();
    int from = ++at;
    while (sign() != quote) {
      if (sign() == '&' || sign() == '<') throw new NoShape();
      at++;
    }
    boolean ofFix = depth == 0 && !name.startsWith("xmlns");
    if (ofFix && markup.attribute(local(name)) != FixField.OTHER)
      value(markup.attribute(local(name)), from, at);
    at++;
  }

  /** What the element is that was opened last. */
  private FixField field() {
    boolean empty = text[at - 2] == '/';
    return markup.text(opened, depth == (empty ? 1 : 2));
  }

  /** An element's text, where it has no more. */
  private void leaf() {
    int from = at;
    while (sign() != '<') {
      if (sign() == '&') throw new NoShape();
      at++;
    }
    int to = at;
    FixField field = markup.text(opened, depth == 2);
    if (peek(1) != '/') {
      // Elements inside: no value, and blanks at most before them.
      if (field != FixField.OTHER) throw new NoShape();
      at = from;
      return;
    }
    boolean blank = new String(text, from, to - from, StandardCharsets.US_ASCII).isBlank();
    if (blank && field != FixField.OTHER) throw new NoShape();
    if (!blank) value(field, from, to);
  }

  private void endTag() {
    at += 2;
    name();
    blanks();
    if (sign() != '>') throw new NoShape();
    at++;
    depth--;
  }
}
