package milewarden.store;

import com.fasterxml.jackson.annotation.JsonAutoDetect;
import com.fasterxml.jackson.annotation.JsonIgnoreProperties;
import com.fasterxml.jackson.annotation.PropertyAccessor;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.type.TypeReference;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import milewarden.accuracy.PassMeasurement;

/**
 * Records of the domain as JSON text: their components by name, times as text, an empty Optional as
 * null. Unknown names are passed over, so that what an older or newer version wrote can be read.
 */
public final class Json {
  private static final ObjectMapper MAPPER =
      JsonMapper.builder()
          .addModule(new Jdk8Module())
          .addModule(new JavaTimeModule())
          .addModule(Shared.module())
          .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
          .disable(SerializationFeature.WRITE_DURATIONS_AS_TIMESTAMPS)
          .disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
          .disable(DeserializationFeature.ADJUST_DATES_TO_CONTEXT_TIME_ZONE)
          .visibility(PropertyAccessor.GETTER, JsonAutoDetect.Visibility.NONE)
          .visibility(PropertyAccessor.IS_GETTER, JsonAutoDetect.Visibility.NONE)
          .visibility(PropertyAccessor.FIELD, JsonAutoDetect.Visibility.ANY)
          .build();
  private static final TypeReference<Map<String, String>> TEXTS = new TypeReference<>() {};

  private static final ObjectMapper WITHOUT_SERIES =
      MAPPER.copy().addMixIn(PassMeasurement.class, WithoutSeries.class);

  private Json() {}

  @JsonIgnoreProperties({"profile", "excessPer10m"})
  private abstract static class WithoutSeries {}

  /** A pass without its series, which are kept more densely. */
  public static String writeWithoutSeries(PassMeasurement pass) {
    return write(WITHOUT_SERIES, pass);
  }

  public static ObjectNode tree(String json) {
    try {
      return (ObjectNode) MAPPER.readTree(json);
    } catch (JsonProcessingException e) {
      throw new Unreadable("JSON", e);
    }
  }

  public static <T> T read(ObjectNode tree, Class<T> type) {
    try {
      return MAPPER.treeToValue(tree, type);
    } catch (JsonProcessingException e) {
      throw new Unreadable(type.getSimpleName(), e);
    }
  }

  public static String write(Object record) {
    return write(MAPPER, record);
  }

  /** The same in lines, for people to read. */
  public static String pretty(Object record) {
    try {
      return MAPPER.writerWithDefaultPrettyPrinter().writeValueAsString(record);
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("can't be written as JSON: " + record.getClass(), e);
    }
  }

  private static String write(ObjectMapper mapper, Object record) {
    try {
      return mapper.writeValueAsString(record);
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("can't be written as JSON: " + record.getClass(), e);
    }
  }

  public static <T> T read(String json, Class<T> type) {
    try {
      return MAPPER.readValue(json, type);
    } catch (JsonProcessingException e) {
      throw new Unreadable(type.getSimpleName(), e);
    }
  }

  /** Empty where it is damaged. */
  public static <T> Optional<T> readable(String json, Class<T> type) {
    try {
      return Optional.of(read(json, type));
    } catch (Unreadable e) {
      return Optional.empty();
    }
  }

  /** The same for what is kept in memory: equal values in it are one object. */
  static <T> T readShared(String json, Class<T> type) {
    try {
      return MAPPER.readerFor(type).withAttribute(Shared.KEY, Shared.none()).readValue(json);
    } catch (JsonProcessingException e) {
      throw new Unreadable(type.getSimpleName(), e);
    }
  }

  public static <T> T read(String json, TypeReference<T> type) {
    try {
      return MAPPER.readValue(json, type);
    } catch (JsonProcessingException e) {
      throw new Unreadable(type.getType().getTypeName(), e);
    }
  }

  /** Which fields two records' texts tell apart, with both values: {@code a: 2 instead of 1}. */
  public static String differences(String before, String after) {
    JsonNode old = read(before, JsonNode.class);
    JsonNode now = read(after, JsonNode.class);
    Set<String> names = new TreeSet<>();
    old.properties().forEach(field -> names.add(field.getKey()));
    now.properties().forEach(field -> names.add(field.getKey()));
    return names.stream()
        .filter(n -> !old.path(n).equals(now.path(n)))
        .map(n -> n + ": " + now.path(n) + before(old.path(n)))
        .collect(Collectors.joining("; "));
  }

  // What a newer version added wasn't there before.
  private static String before(JsonNode old) {
    return old.isMissingNode() ? ", which is new" : " instead of " + old;
  }

  public static Map<String, String> readTexts(String json) {
    return read(json, TEXTS);
  }
}
