package milewarden.format.xml;

import milewarden.format.fixes.PlainNumber;
import org.codehaus.stax2.typed.TypedValueDecoder;

/** Reads an attribute's number from the parser's buffer, without a text in between. */
final class DecimalDecoder extends TypedValueDecoder {
  private double value = Double.NaN;

  /** The number read last; NaN where it was none. */
  double value() {
    return value;
  }

  @Override
  public void decode(String input) {
    value = PlainNumber.parse(input);
  }

  @Override
  public void decode(char[] buffer, int start, int end) {
    value = PlainNumber.parse(buffer, start, end);
  }

  @Override
  public void handleEmptyValue() {
    value = Double.NaN;
  }
}
