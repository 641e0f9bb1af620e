package milewarden.cli.kept;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;

/** Answers as one JSON document: what is not known is null, numbers are not rounded. */
final class AnswerJson {
  private static final JsonMapper JSON =
      JsonMapper.builder()
          .addModule(new Jdk8Module())
          .addModule(new JavaTimeModule())
          .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
          .enable(SerializationFeature.INDENT_OUTPUT)
          .build();

  private AnswerJson() {}

  static String of(Object answer) {
    try {
      return JSON.writeValueAsString(answer).replace("\r\n", "\n");
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("an answer of " + answer.getClass(), e);
    }
  }
}
