package milewarden.format.text;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.BufferedReader;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.ReadLimits;
import org.junit.jupiter.api.Test;

final class LinesTest {
  private static Lines lines(String text) throws IOException {
    return lines(text.getBytes(StandardCharsets.UTF_8));
  }

  private static Lines lines(byte[] bytes) throws IOException {
    InputStream in = new ByteArrayInputStream(bytes);
    return new Lines(FileHead.of(in), in, ReadLimits.DEFAULT);
  }

  private static List<String> ours(String text) throws Exception {
    return ours(text.getBytes(StandardCharsets.UTF_8));
  }

  private static List<String> ours(byte[] bytes) throws Exception {
    List<String> found = new ArrayList<>();
    Lines lines = lines(bytes);
    while (lines.next()) {
      String text = lines.text();
      found.add(lines.place() + ": " + text);
      assertThat(lines.length()).isEqualTo(text.length());
      for (int i = 0; i < text.length(); i++)
        if (lines.bytes()[lines.start() + i] != Lines.byteOf(text.charAt(i)))
          throw new AssertionError(lines.place() + ", sign " + i);
    }
    return found;
  }

  /** As the JDK parts lines. */
  private static List<String> theirs(String text) {
    List<String> found = new ArrayList<>();
    for (String line : new BufferedReader(new StringReader(text)).lines().toList())
      found.add("line " + (found.size() + 1) + ": " + line);
    return found;
  }

  @Test
  void linesEndWhereTheJdkEndsThem() throws Exception {
    for (int seed = 0; seed < 300; seed++) {
      Random random = new Random(seed);
      // A blank first line is the head's matter.
      StringBuilder text = new StringBuilder("x");
      int pieces = random.nextInt(60);
      for (int i = 0; i < pieces; i++)
        switch (random.nextInt(6)) {
          case 0 -> text.append('\n');
          case 1 -> text.append('\r');
          case 2 -> text.append("\r\n");
          case 3 -> text.append("é€");
          // Longer than what is read at once, 8,192 signs, now and then.
          case 4 -> text.append("a".repeat(random.nextInt(9_000)));
          default -> text.append("b,1");
        }
      assertThat(ours(text.toString())).as("seed %d", seed).isEqualTo(theirs(text.toString()));
    }
  }

  /** Of bytes that are no text as many marks of replacement as the JDK's decoder makes. */
  @Test
  void whatIsNoTextIsReplacedAsTheJdkReplacesIt() throws Exception {
    for (int seed = 0; seed < 300; seed++) {
      Random random = new Random(seed);
      ByteArrayOutputStream bytes = new ByteArrayOutputStream();
      bytes.write('x');
      int pieces = random.nextInt(40);
      for (int i = 0; i < pieces; i++)
        switch (random.nextInt(6)) {
          case 0 -> bytes.write(random.nextInt(256));
          // Begins a sign of two, three or four bytes.
          case 1 -> bytes.write(0xc0 + random.nextInt(0x40));
          case 2 -> bytes.write(0x80 + random.nextInt(0x40));
          case 3 -> bytes.write(random.nextBoolean() ? '\n' : '\r');
          case 4 ->
              bytes.writeBytes("a".repeat(random.nextInt(3_000)).getBytes(StandardCharsets.UTF_8));
          default -> bytes.writeBytes("52,13".getBytes(StandardCharsets.UTF_8));
        }
      String text = new String(bytes.toByteArray(), StandardCharsets.UTF_8);
      assertThat(ours(bytes.toByteArray())).as("seed %d", seed).isEqualTo(theirs(text));
    }
  }

  @Test
  void aTextOfTwoByteUnitsIsReadAsOneOfSingleBytes() throws Exception {
    String text = "lat,lon\r\n52,13\n" + "é,€\r".repeat(3_000);
    assertThat(ours(text.getBytes(StandardCharsets.UTF_16))).isEqualTo(theirs(text));
  }

  @Test
  void aBreakOfTwoSignsAtTheEndOfWhatIsReadAtOnceIsOne() throws Exception {
    for (int length = 8_180; length < 8_200; length++) {
      String text = "a".repeat(length) + "\r\nb\r\n\r\nc";
      assertThat(ours(text)).as("length %d", length).isEqualTo(theirs(text));
    }
  }

  @Test
  void aLineBeyondTheBoundIsRefusedAndOneOfJustTheBoundIsRead() throws Exception {
    assertThat(ours("a".repeat(Lines.LONGEST) + "\nb")).hasSize(2);
    Lines longer = lines("a".repeat(Lines.LONGEST + 1) + "\n");
    assertThatThrownBy(longer::next).isInstanceOf(Lines.TooLong.class);
  }
}
