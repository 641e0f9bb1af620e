package milewarden.app.config;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * A YAML file as dotted keys with their texts and lines: {@code mail.host} on line 12. A list gives
 * its key several texts.
 */
public record YamlFile(String name, Map<String, Entry> entries, List<Problem> problems) {
  public YamlFile {
    // Order of the file, so that problems are told from its top.
    entries = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(entries));
    problems = List.copyOf(problems);
  }

  /** The value of a key: its texts, none for an empty list or value. */
  public record Entry(List<String> texts, int line, boolean list) {
    public Entry {
      texts = List.copyOf(texts);
    }
  }

  /** What is wrong, on which line (0: the whole file), and what to do. */
  public record Problem(String file, int line, String text) {
    @Override
    public String toString() {
      return file + (line > 0 ? ", line " + line : "") + ": " + text;
    }
  }

  public static YamlFile empty(String name) {
    return new YamlFile(name, Map.of(), List.of());
  }

  public static YamlFile read(Path file) {
    String name = file.toString();
    try {
      return parse(name, Files.readString(file));
    } catch (IOException e) {
      String why = "can't be read (" + e + "); mend the path or its rights";
      return new YamlFile(name, Map.of(), List.of(new Problem(name, 0, why)));
    }
  }

  public static YamlFile parse(String name, String text) {
    Map<String, Entry> entries = new LinkedHashMap<>();
    List<Problem> problems = new ArrayList<>();
    YAMLFactory factory = new YAMLFactory();
    try (JsonParser parser = factory.createParser(text)) {
      collect(parser, name, entries, problems);
    } catch (JsonProcessingException e) {
      int line = e.getLocation() == null ? 0 : e.getLocation().getLineNr();
      String why = String.valueOf(e.getOriginalMessage()).lines().findFirst().orElse("");
      problems.add(new Problem(name, line, "is no YAML from here on: " + why));
    } catch (IOException e) {
      problems.add(new Problem(name, 0, "can't be read: " + e.getMessage()));
    }
    return new YamlFile(name, entries, problems);
  }

  private static void collect(
      JsonParser parser, String name, Map<String, Entry> entries, List<Problem> problems)
      throws IOException {
    Deque<String> path = new ArrayDeque<>();
    String field = "";
    for (JsonToken token = parser.nextToken(); token != null; token = parser.nextToken()) {
      int line = parser.currentTokenLocation().getLineNr();
      switch (token) {
        case START_OBJECT -> {
          path.addLast(field);
          field = "";
        }
        case END_OBJECT -> path.removeLast();
        case FIELD_NAME -> field = dotted(path, parser.currentName());
        case START_ARRAY -> put(name, entries, problems, field, list(parser, line));
        case VALUE_NULL -> put(name, entries, problems, field, new Entry(List.of(), line, false));
        default ->
            put(name, entries, problems, field, new Entry(List.of(parser.getText()), line, false));
      }
    }
  }

  private static void put(
      String name, Map<String, Entry> entries, List<Problem> problems, String key, Entry entry) {
    if (key.isEmpty()) {
      if (!entry.texts().isEmpty())
        problems.add(new Problem(name, entry.line(), "holds no keys; write `key: value`"));
      return;
    }
    Entry first = entries.putIfAbsent(key, entry);
    if (first != null)
      problems.add(
          new Problem(
              name,
              entry.line(),
              "`" + key + "` stands on line " + first.line() + " already; take one away"));
  }

  private static Entry list(JsonParser parser, int line) throws IOException {
    List<String> texts = new ArrayList<>();
    int depth = 1;
    while (depth > 0) {
      JsonToken token = parser.nextToken();
      if (token == null) break;
      if (token.isStructStart()) depth++;
      else if (token.isStructEnd()) depth--;
      else if (token.isScalarValue()) texts.add(parser.getText());
    }
    return new Entry(texts, line, true);
  }

  private static String dotted(Deque<String> path, String name) {
    String above = path.isEmpty() ? "" : path.getLast();
    return above.isEmpty() ? name : above + "." + name;
  }
}
