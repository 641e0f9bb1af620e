package milewarden.app;

import java.io.IOException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** A browser without a screen: keeps cookies, sends forms with their tokens, follows nothing. */
final class Browsing {
  private static final Pattern TOKEN = Pattern.compile("name=\"csrf\" value=\"([^\"]+)\"");
  private final HttpClient client = HttpClient.newHttpClient();
  private final Map<String, String> cookies = new TreeMap<>();
  private final String address;

  Browsing(int port) {
    this.address = "http://127.0.0.1:" + port;
  }

  HttpResponse<String> get(String path, String... headers)
      throws IOException, InterruptedException {
    return send("GET", path, "", headers);
  }

  HttpResponse<String> send(String method, String path, String body, String... headers)
      throws IOException, InterruptedException {
    return send(method, path, body.getBytes(StandardCharsets.UTF_8), headers);
  }

  /** Posts bytes as they are. */
  HttpResponse<String> sendBytes(String path, byte[] body, String... headers)
      throws IOException, InterruptedException {
    return send("POST", path, body, headers);
  }

  private HttpResponse<String> send(String method, String path, byte[] body, String... headers)
      throws IOException, InterruptedException {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(address + path))
            .method(
                method,
                method.equals("GET") ? BodyPublishers.noBody() : BodyPublishers.ofByteArray(body));
    if (headers.length > 0) request.headers(headers);
    List<String> all = new ArrayList<>();
    cookies.forEach((name, value) -> all.add(name + "=" + value));
    if (!all.isEmpty()) request.header("Cookie", String.join("; ", all));
    HttpResponse<String> answer = client.send(request.build(), BodyHandlers.ofString());
    for (String set : answer.headers().allValues("Set-Cookie")) {
      String[] pair = set.split(";")[0].split("=", 2);
      if (pair[1].isEmpty()) cookies.remove(pair[0]);
      else cookies.put(pair[0], pair[1]);
    }
    return answer;
  }

  /** Sends a form of fields name, value, name, value with the token of the log-in page. */
  HttpResponse<String> post(String path, String... fields)
      throws IOException, InterruptedException {
    StringBuilder body = new StringBuilder("csrf=" + encoded(token()));
    for (int i = 0; i < fields.length; i += 2)
      body.append('&').append(fields[i]).append('=').append(encoded(fields[i + 1]));
    return send(
        "POST",
        path,
        body.toString(),
        "Content-Type",
        "application/x-www-form-urlencoded",
        "Accept",
        "text/html");
  }

  /** The token that belongs to this browser's cookie, off a page that it may see. */
  String token() throws IOException, InterruptedException {
    for (String page : List.of("/account", "/login", "/settings/people")) {
      Matcher found = TOKEN.matcher(get(page, "Accept", "text/html").body());
      if (found.find()) return found.group(1);
    }
    throw new AssertionError("no page gives a token");
  }

  HttpResponse<String> login(String name, String passphrase)
      throws IOException, InterruptedException {
    return post("/login", "name", name, "passphrase", passphrase, "next", "/due");
  }

  Map<String, String> cookies() {
    return cookies;
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }
}
