package milewarden.review.tell;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.answer.DueAnswer;
import milewarden.report.mail.DueMail;
import milewarden.store.judged.DueItems;

/**
 * What is posted to another program: {@code text} is what a chat tool shows, {@code items} are as
 * {@code /api/v1/due} gives them.
 *
 * @param id the same however often it is posted
 * @param event {@code due}, {@code still-due} or {@code test}
 */
record HookBody(
    String id,
    String event,
    Instant at,
    String text,
    Optional<String> link,
    List<DueAnswer> items) {
  private static final JsonMapper JSON =
      JsonMapper.builder()
          .addModule(new Jdk8Module())
          .addModule(new JavaTimeModule())
          .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
          .build();

  HookBody {
    items = List.copyOf(items);
  }

  static String of(
      String id,
      DueMail.Why why,
      DueMail mail,
      List<DueItems.Due> items,
      Optional<String> link,
      Instant now,
      Digits digits) {
    String event = why == DueMail.Why.STILL_DUE ? "still-due" : "due";
    List<DueAnswer> answers =
        items.stream()
            .map(d -> DueAnswer.of(d.id().value(), d.item(), d.raisedAt(), d.whole(), digits))
            .toList();
    return new HookBody(id, event, now, mail.subject(), link, answers).json();
  }

  String json() {
    try {
      return JSON.writeValueAsString(this);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a body of the hook", e);
    }
  }
}
