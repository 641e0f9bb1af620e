package milewarden.web.api;

import com.fasterxml.jackson.annotation.JsonInclude;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import io.javalin.http.Context;
import java.nio.charset.StandardCharsets;
import java.util.List;
import milewarden.report.answer.HeadToHeadAnswer;

/** Records to JSON: times as RFC 3339 in UTC, what is not known as null, numbers unrounded. */
final class Answers {
  private static final JsonMapper JSON =
      JsonMapper.builder()
          .addModule(new Jdk8Module())
          .addModule(new JavaTimeModule())
          .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
          .addMixIn(HeadToHeadAnswer.class, Whole.class)
          .build();

  private Answers() {}

  /** What is missing is named where something is. */
  private abstract static class Whole {
    @JsonInclude(JsonInclude.Include.NON_EMPTY)
    abstract List<String> unread();
  }

  static void json(Context http, Object answer) {
    try {
      http.result(JSON.writeValueAsString(answer).getBytes(StandardCharsets.UTF_8));
      http.contentType("application/json");
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("an answer of " + answer.getClass(), e);
    }
  }
}
