package milewarden.web.desk;

import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import io.javalin.http.NotFoundResponse;
import io.javalin.http.UploadedFile;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Optional;
import milewarden.web.Visitor;

/** What a reader sent: fields, files and the numbers in addresses. */
public final class Sent {
  private Sent() {}

  /** A field or a parameter of the address; empty text where it is missing. */
  public static String text(Context http, String name) {
    String form = http.formParam(name);
    String query = http.queryParam(name);
    return form != null ? form.strip() : query != null ? query.strip() : "";
  }

  /** Who says it: whoever gave a passphrase, else the name in the form; empty text where none. */
  public static String by(Context http) {
    Visitor visitor = Visitor.of(http);
    return visitor.signedIn() ? visitor.actor().name() : text(http, "by");
  }

  /** A whole number of a form. */
  public static long number(Context http, String name) {
    return parse(text(http, name))
        .orElseThrow(() -> new BadRequestResponse("The form lacks its " + name + "."));
  }

  /** A whole number of the address: what is none names nothing. */
  public static long part(Context http, String name) {
    return parse(http.pathParam(name)).orElseThrow(() -> missing("page"));
  }

  public static NotFoundResponse missing(String what) {
    return new NotFoundResponse("There is no such " + what + ".");
  }

  public static Optional<Long> parse(String text) {
    try {
      return Optional.of(Long.parseLong(text));
    } catch (NumberFormatException e) {
      return Optional.empty();
    }
  }

  public static byte[] bytes(UploadedFile file) {
    try (InputStream in = file.content()) {
      return in.readAllBytes();
    } catch (IOException e) {
      throw new UncheckedIOException("the upload " + file.filename(), e);
    }
  }
}
