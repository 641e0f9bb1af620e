package milewarden.format.fixes;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The oracle is Double.parseDouble of the JDK: not one bit may differ. */
final class PlainNumberTest {
  private static void agrees(String text) {
    long found = Double.doubleToRawLongBits(PlainNumber.parse(text));
    long expected = Double.doubleToRawLongBits(Double.parseDouble(text));
    if (found != expected) throw new AssertionError(text + " read as " + PlainNumber.parse(text));
    byte[] bytes = ("7" + text + "<").getBytes(StandardCharsets.US_ASCII);
    double ofBytes = PlainNumber.parse(bytes, 1, bytes.length - 1);
    if (Double.doubleToRawLongBits(ofBytes) != expected)
      throw new AssertionError(text + " read from bytes as " + ofBytes);
    scanned(text, expected);
  }

  /** Where it is of the plain form, and nothing else; with markup behind it. */
  private static void scanned(String text, long expected) {
    byte[] bytes = ("7" + text + "<").getBytes(StandardCharsets.US_ASCII);
    ScannedNumber number = new ScannedNumber();
    int stop = number.read(bytes, 1, bytes.length);
    if (text.matches("-?(\\d+\\.?\\d*|\\.\\d+)")) {
      assertThat(stop).as(text).isEqualTo(bytes.length - 1);
      assertThat(Double.doubleToRawLongBits(number.value())).as(text).isEqualTo(expected);
    } else if (stop == bytes.length - 1) {
      assertThat(number.value()).as(text).isNaN();
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "0",
        "-0",
        "-0.0",
        "+1",
        "1.",
        ".5",
        "-.5",
        "52.5200066",
        "-179.99999991618097",
        "1e3",
        "-1.5E-3",
        "000123.4500",
        "0.00000000000000000000000001",
        "123456789012345",
        "1234567890123456",
        "9007199254740993",
        "0.1234567890123456789012345678",
        " 12.5\n",
        "52.52000000000000312638803734444081783294677734375",
        "1e400",
        "4.9e-324"
      })
  void everyFormOfADecimalReadsAsTheJdkReadsIt(String text) {
    agrees(text);
  }

  @Test
  void aHundredThousandRandomDecimalsReadAsTheJdkReadsThem() {
    long seed = 20261125;
    Random random = new Random(seed);
    for (int i = 0; i < 100_000; i++) {
      StringBuilder b = new StringBuilder();
      if (random.nextInt(3) == 0) b.append(random.nextBoolean() ? '-' : '+');
      int whole = random.nextInt(8);
      for (int d = 0; d < whole; d++) b.append(random.nextInt(10));
      int decimals = random.nextInt(12);
      if (decimals > 0) b.append('.');
      for (int d = 0; d < decimals; d++) b.append(random.nextInt(10));
      if (whole + decimals == 0) b.append('7');
      if (random.nextInt(20) == 0) b.append('e').append(random.nextInt(40) - 20);
      agrees(b.toString());
    }
    for (int i = 0; i < 100_000; i++) agrees(Double.toString(random.nextGaussian() * 90));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        " ",
        "-",
        ".",
        "+.",
        "NaN",
        "Infinity",
        "0x1p3",
        "1d",
        "1f",
        "1,5",
        "1.2.3",
        "--1",
        "1-",
        "e5",
        "1e",
        "١"
      })
  void whatIsNoDecimalNumberIsNaN(String text) {
    assertThat(PlainNumber.parse(text)).as(text).isNaN();
    byte[] bytes = text.getBytes(StandardCharsets.US_ASCII);
    assertThat(PlainNumber.parse(bytes, 0, bytes.length)).as(text).isNaN();
    int stop = new ScannedNumber().read(bytes, 0, bytes.length);
    assertThat(text.substring(0, stop)).as(text).matches("[-.\\d]*");
  }
}
