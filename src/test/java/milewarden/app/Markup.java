package milewarden.app;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The elements of a page as they stand, without running a script: enough to fill in its forms. */
final class Markup {
  private static final Pattern TAG =
      Pattern.compile("<(/?)([a-zA-Z][a-zA-Z0-9]*)((?:[^<>\"]|\"[^\"]*\")*)>");
  private static final Pattern ATTRIBUTE =
      Pattern.compile("([^\\s=\"/]+)(?:\\s*=\\s*\"([^\"]*)\")?");
  private static final Set<String> FIELDS = Set.of("input", "select", "textarea");
  private static final Set<String> UNTYPED = Set.of("hidden", "submit", "image", "button", "reset");

  /** An element: its name, and its attributes without character references. */
  record Element(String name, Map<String, String> attributes) {
    String attribute(String name) {
      return attributes.getOrDefault(name, "");
    }

    boolean has(String name) {
      return attributes.containsKey(name);
    }
  }

  /** What a reader fills in; {@code labelled} where words say to every reader what it is. */
  record Field(Element element, boolean labelled, List<Element> options) {
    /** What a browser sends where the reader leaves it alone; for a choice the first one. */
    String value() {
      if (options.isEmpty()) return element.attribute("value");
      return options.stream()
          .filter(o -> o.has("selected"))
          .findFirst()
          .orElse(options.get(0))
          .attribute("value");
    }

    String type() {
      return element.name.equals("input") ? element.attributes.getOrDefault("type", "text") : "";
    }
  }

  /** A form with what stands inside it, or belongs to it by its identity. */
  record Form(Element element, List<Field> fields, List<Element> buttons) {}

  final List<Element> elements = new ArrayList<>();
  final List<Form> forms = new ArrayList<>();

  /** Fields and buttons that belong to no form. */
  final Form stray = new Form(new Element("none", Map.of()), new ArrayList<>(), new ArrayList<>());

  Markup(String html) {
    String bare = html.replaceAll("(?s)<!--.*?-->|(<script[^>]*>).*?</script>", "$1");
    Set<String> named = named(bare);
    Deque<Form> within = new ArrayDeque<>();
    int label = -1;
    Matcher tag = TAG.matcher(bare);
    while (tag.find()) {
      String name = tag.group(2).toLowerCase(Locale.ROOT);
      if (!tag.group(1).isEmpty()) {
        if (name.equals("form") && !within.isEmpty()) within.pop();
        if (name.equals("label")) label = -1;
        continue;
      }
      Element element = new Element(name, attributes(tag.group(3)));
      elements.add(element);
      if (name.equals("form")) {
        Form form = new Form(element, new ArrayList<>(), new ArrayList<>());
        forms.add(form);
        within.push(form);
      }
      if (name.equals("label")) label = tag.end();
      Form owner = owner(element, within);
      if (name.equals("button")) owner.buttons.add(element);
      if (FIELDS.contains(name))
        owner.fields.add(
            new Field(
                element,
                UNTYPED.contains(element.attribute("type"))
                    || named.contains(element.attribute("id"))
                    || !element.attribute("aria-label").isBlank()
                    || named.contains("#" + element.attribute("aria-labelledby"))
                    || (label >= 0 && hasWords(labelFrom(bare, label))),
                new ArrayList<>()));
      if (name.equals("option") && !owner.fields.isEmpty()) {
        Field last = owner.fields.get(owner.fields.size() - 1);
        if (last.element.name.equals("select")) last.options.add(element);
      }
    }
  }

  private static String labelFrom(String html, int start) {
    int end = html.indexOf("</label>", start);
    return html.substring(start, end < 0 ? html.length() : end);
  }

  private static boolean hasWords(String html) {
    return !html.replaceAll("(?s)<select.*?</select>|<datalist.*?</datalist>|<[^>]*>", "")
        .isBlank();
  }

  /** Identities that a label is for, and those of elements that may name another. */
  private static Set<String> named(String html) {
    Set<String> named = new HashSet<>();
    Matcher is = Pattern.compile("<label[^>]*\\bfor=\"([^\"]+)\"|\\bid=\"([^\"]+)\"").matcher(html);
    Set<String> labelled = new HashSet<>();
    while (is.find()) {
      if (is.group(1) != null) labelled.add(is.group(1));
      else named.add("#" + is.group(2));
    }
    named.addAll(labelled);
    return named;
  }

  private Form owner(Element element, Deque<Form> within) {
    String by = element.attribute("form");
    if (by.isEmpty()) return within.isEmpty() ? stray : within.peek();
    return forms.stream()
        .filter(f -> f.element.attribute("id").equals(by))
        .findFirst()
        .orElse(stray);
  }

  private static Map<String, String> attributes(String text) {
    Map<String, String> attributes = new LinkedHashMap<>();
    Matcher each = ATTRIBUTE.matcher(text);
    while (each.find())
      attributes.put(each.group(1), each.group(2) == null ? "" : plain(each.group(2)));
    return attributes;
  }

  private static String plain(String text) {
    return text.replace("&#34;", "\"")
        .replace("&quot;", "\"")
        .replace("&#39;", "'")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&");
  }
}
