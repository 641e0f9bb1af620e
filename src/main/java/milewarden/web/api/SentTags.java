package milewarden.web.api;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import io.javalin.http.BadRequestResponse;
import java.util.EnumMap;
import java.util.Map;
import milewarden.track.TagName;

/** Tags as an object of JSON: names of the field sheet's columns, texts, numbers or booleans. */
final class SentTags {
  private static final JsonMapper JSON = new JsonMapper();

  private SentTags() {}

  /** The tags; null or an empty text takes an earlier edit back. At least one. */
  static Map<TagName, String> of(String body) {
    JsonNode sent;
    try {
      sent = JSON.readTree(body);
    } catch (JsonProcessingException e) {
      throw new BadRequestResponse("This is no JSON. Send an object of tags: {\"unit\": \"K1\"}.");
    }
    if (!sent.isObject() || sent.isEmpty())
      throw new BadRequestResponse("Send an object with at least one tag: {\"unit\": \"K1\"}.");
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    for (Map.Entry<String, JsonNode> field : sent.properties()) {
      TagName name =
          TagName.of(field.getKey())
              .orElseThrow(
                  () -> new BadRequestResponse("There is no tag named " + field.getKey() + "."));
      if (field.getValue().isContainerNode())
        throw new BadRequestResponse("The tag " + field.getKey() + " is no text or number.");
      tags.put(name, field.getValue().isNull() ? "" : text(field.getValue()).strip());
    }
    return tags;
  }

  private static String text(JsonNode value) {
    if (value.isBoolean()) return value.booleanValue() ? "yes" : "no";
    return value.asText();
  }
}
