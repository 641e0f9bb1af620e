package milewarden.format;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Held against the library's own mapper. */
final class JsonTreeTest {
  private static final JsonMapper LIBRARY =
      JsonMapper.builder()
          .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .build();

  @Test
  void everyKindOfValueIsReadAsTheLibraryReadsIt() throws IOException {
    for (String json :
        List.of(
            "",
            "  ",
            "null",
            "true",
            "[]",
            "{}",
            "[1, -2147483649, 9223372036854775808, 1.5, -0.0, 1e300, 12345678901234567890.5]",
            "{\"a\":{\"b\":[false,null,\"\\u00e9\\n\"]},\"c\":\"\"}"))
      assertThat(JsonTree.read(bytes(json))).as(json).isEqualTo(LIBRARY.readTree(bytes(json)));
  }

  @Test
  void whatTheLibraryRefusesIsRefused() {
    for (String json :
        List.of(
            "{\"a\":1,\"a\":2}",
            "{} {}",
            "1 2",
            "[1",
            "{\"a\":",
            "{\"a\"",
            "[1,]",
            "{,}",
            "nul",
            "]",
            "[".repeat(1200) + "]".repeat(1200))) {
      assertThatThrownBy(() -> LIBRARY.readTree(bytes(json)))
          .as(json)
          .isInstanceOf(Exception.class);
      assertThatThrownBy(() -> JsonTree.read(bytes(json)))
          .as(json)
          .isInstanceOf(JsonProcessingException.class);
    }
  }

  @Test
  void coursesWithABrokenByteAreReadOrRefusedAlike() throws IOException {
    List<Path> files = new ArrayList<>();
    try (Stream<Path> all = Files.list(Path.of("reference-courses"))) {
      all.filter(f -> f.toString().endsWith(".geojson")).forEach(files::add);
    }
    assertThat(files).isNotEmpty();
    SplittableRandom random = new SplittableRandom(20_261_127);
    for (int i = 0; i < 300; i++) {
      byte[] bytes = Files.readAllBytes(files.get(random.nextInt(files.size())));
      if (i > 0)
        bytes[random.nextInt(bytes.length)] = (byte) "{}[]\",:0x. ".charAt(random.nextInt(11));
      JsonNode expected = null;
      try {
        expected = LIBRARY.readTree(bytes);
      } catch (JsonProcessingException e) {
        assertThatThrownBy(() -> JsonTree.read(bytes))
            .as("draw " + i)
            .isInstanceOf(JsonProcessingException.class);
      }
      if (expected != null) assertThat(JsonTree.read(bytes)).as("draw " + i).isEqualTo(expected);
    }
  }

  private static byte[] bytes(String json) {
    return json.getBytes(StandardCharsets.UTF_8);
  }
}
