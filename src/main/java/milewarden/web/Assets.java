package milewarden.web;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import io.javalin.http.NotFoundResponse;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Pattern;
import java.util.zip.CRC32;

/**
 * Styles, scripts and libraries, from the program itself. The server library's own way mounts the
 * whole jar as a file system first, a fifth of the work of a start.
 */
final class Assets implements Routes {
  private static final Pattern NAME = Pattern.compile("[A-Za-z0-9][A-Za-z0-9._-]*");
  // RFC 9239 for scripts; the rest as registered with IANA.
  private static final Map<String, String> TYPES =
      Map.of(
          "css", "text/css;charset=utf-8",
          "js", "text/javascript;charset=utf-8",
          "svg", "image/svg+xml",
          "txt", "text/plain;charset=utf-8");
  // Asked again each time, answered by the entity tag: a new jar is seen at once.
  private static final String ASK_AGAIN = "no-cache";
  // A library's address names its version: a year, which is how caches say for ever.
  private static final String KEEP = "max-age=31622400";

  private final Map<String, Asset> read = new ConcurrentHashMap<>();

  private static final class Asset {
    final byte[] bytes;
    final String type;
    final String tag;

    Asset(byte[] bytes, String type) {
      CRC32 sum = new CRC32();
      sum.update(bytes);
      this.bytes = bytes;
      this.type = type;
      this.tag = "W/\"%x-%x\"".formatted(bytes.length, sum.getValue());
    }
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get(
        "/assets/{name}",
        http -> send(http, "/milewarden/assets/" + name(http, "name"), ASK_AGAIN));
    config.routes.get(
        "/webjars/{library}/{version}/dist/{name}",
        http ->
            send(
                http,
                "/META-INF/resources/webjars/%s/%s/dist/%s"
                    .formatted(name(http, "library"), name(http, "version"), name(http, "name")),
                KEEP));
  }

  // Neither a slash nor a name that begins with a full stop leads elsewhere.
  private static String name(Context http, String parameter) {
    String name = http.pathParam(parameter);
    if (!NAME.matcher(name).matches()) throw new NotFoundResponse();
    return name;
  }

  private void send(Context http, String resource, String caching) {
    Asset asset = read.computeIfAbsent(resource, Assets::read);
    http.header("Cache-Control", caching);
    http.header("ETag", asset.tag);
    if (asset.tag.equals(http.header("If-None-Match"))) http.status(304);
    else http.contentType(asset.type).result(asset.bytes);
  }

  // What isn't there is not remembered: anybody may ask for any name.
  private static Asset read(String resource) {
    try (InputStream in = Assets.class.getResourceAsStream(resource)) {
      String type = TYPES.get(resource.substring(resource.lastIndexOf('.') + 1));
      if (in == null || type == null) throw new NotFoundResponse();
      return new Asset(in.readAllBytes(), type);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
