package milewarden.web;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.SerializableString;
import com.fasterxml.jackson.core.io.CharacterEscapes;
import com.fasterxml.jackson.core.io.SerializedString;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.ser.std.StdSerializer;
import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import gg.jte.output.StringOutput;
import io.javalin.http.Context;
import io.javalin.rendering.FileRenderer;
import java.io.IOException;
import java.util.Map;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;

/** Page records to HTML, by templates that were compiled with the program. */
public final class Renderer implements FileRenderer {
  private static final String TEMPLATES = "milewarden.web.template";

  private final TemplateEngine engine =
      TemplateEngine.createPrecompiled(
          null, ContentType.Html, Renderer.class.getClassLoader(), TEMPLATES);
  private final JsonMapper json =
      JsonMapper.builder().addModule(new SimpleModule().addSerializer(new OrNull())).build();

  public Renderer() {
    json.getFactory().setCharacterEscapes(new InScriptElement());
  }

  /** Answers with a page that has no chart, or with its data where these are asked for. */
  public void show(Context http, String template, Frame frame, Object page) {
    show(http, template, frame, page, Map.of());
  }

  /** Answers with a page and the data of its charts, or with its data where these are asked for. */
  public void show(Context http, String template, Frame frame, Object page, Object data) {
    if (PageData.answered(http, page)) return;
    Frame around =
        frame.around(Live.madeIn(http), Reading.measures(http, frame), PageData.places(http, page));
    http.contentType("text/html; charset=utf-8");
    String token = Csrf.token(http);
    Frame seen = around.seenBy(Visitor.of(http), token);
    http.render(template + ".jte", Map.of("on", new Shown<>(page, seen, token, toJson(data))));
  }

  @Override
  public String render(String path, Map<String, ?> model, Context http) {
    return render(path, model.get("on"));
  }

  String render(String path, @Nullable Object on) {
    StringOutput out = new StringOutput();
    engine.render(path, on, out);
    return out.toString();
  }

  /** What a page's script asked for. */
  public String json(Object answer) {
    return toJson(answer);
  }

  String toJson(Object data) {
    try {
      return json.writeValueAsString(data);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("chart data of " + data.getClass(), e);
    }
  }

  /** A number that is not known is null. */
  private static final class OrNull extends StdSerializer<OptionalDouble> {
    private static final long serialVersionUID = 1L;

    OrNull() {
      super(OptionalDouble.class);
    }

    @Override
    public void serialize(OptionalDouble value, JsonGenerator out, SerializerProvider provider)
        throws IOException {
      if (value.isPresent()) out.writeNumber(value.getAsDouble());
      else out.writeNull();
    }
  }

  /** Keeps a text within a script element from ending it. */
  private static final class InScriptElement extends CharacterEscapes {
    private static final long serialVersionUID = 1L;
    private final int[] escapes = CharacterEscapes.standardAsciiEscapesForJSON();

    InScriptElement() {
      for (char c : new char[] {'<', '>', '&'}) escapes[c] = CharacterEscapes.ESCAPE_STANDARD;
    }

    @Override
    public int[] getEscapeCodesForAscii() {
      return escapes.clone();
    }

    @Override
    public @Nullable SerializableString getEscapeSequence(int ch) {
      // U+2028 and U+2029 end a line in older script engines.
      return ch == 0x2028 || ch == 0x2029
          ? new SerializedString(String.format(java.util.Locale.ROOT, "\\u%04x", ch))
          : null;
    }
  }
}
