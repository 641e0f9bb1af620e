package milewarden.format;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParseException;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.io.JsonEOFException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.MissingNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;

/**
 * One JSON document as a tree: a name comes once in an object, and nothing follows the document. As
 * the library's mapper reads it, which for its 400 classes takes as long as measuring an hour.
 */
final class JsonTree {
  private static final JsonFactory JSON =
      JsonFactory.builder().enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION).build();
  private static final JsonNodeFactory NODES = JsonNodeFactory.instance;

  private JsonTree() {}

  /**
   * @return missing where there is nothing but space
   * @throws com.fasterxml.jackson.core.JsonProcessingException where it is no JSON, or more
   */
  static JsonNode read(byte[] bytes) throws IOException {
    try (JsonParser parser = JSON.createParser(bytes)) {
      JsonToken first = parser.nextToken();
      if (first == null) return MissingNode.getInstance();
      JsonNode root = value(parser, first);
      JsonToken more = parser.nextToken();
      if (more != null) throw new JsonParseException(parser, "something follows the document");
      return root;
    }
  }

  // The parser refuses more than 1,000 levels.
  private static JsonNode value(JsonParser parser, JsonToken token) throws IOException {
    return switch (token) {
      case START_OBJECT -> object(parser);
      case START_ARRAY -> array(parser);
      case VALUE_STRING -> NODES.textNode(parser.getText());
      case VALUE_NUMBER_INT ->
          switch (parser.getNumberType()) {
            case INT -> NODES.numberNode(parser.getIntValue());
            case LONG -> NODES.numberNode(parser.getLongValue());
            default -> NODES.numberNode(parser.getBigIntegerValue());
          };
      case VALUE_NUMBER_FLOAT -> NODES.numberNode(parser.getDoubleValue());
      case VALUE_TRUE -> NODES.booleanNode(true);
      case VALUE_FALSE -> NODES.booleanNode(false);
      case VALUE_NULL -> NODES.nullNode();
      default -> throw new JsonParseException(parser, "no value: " + token);
    };
  }

  private static ObjectNode object(JsonParser parser) throws IOException {
    ObjectNode object = NODES.objectNode();
    for (String name = parser.nextFieldName(); name != null; name = parser.nextFieldName())
      object.set(name, value(parser, next(parser)));
    return object;
  }

  private static ArrayNode array(JsonParser parser) throws IOException {
    ArrayNode array = NODES.arrayNode();
    for (JsonToken t = next(parser); t != JsonToken.END_ARRAY; t = next(parser))
      array.add(value(parser, t));
    return array;
  }

  private static JsonToken next(JsonParser parser) throws IOException {
    JsonToken token = parser.nextToken();
    if (token == null) throw new JsonEOFException(parser, null, "the document breaks off");
    return token;
  }
}
