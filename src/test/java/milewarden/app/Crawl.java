package milewarden.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Every kind of page that links lead to from the overview, a few of each kind. */
final class Crawl {
  private static final Pattern LINK = Pattern.compile("href=\"(/[^\"#]*)\"");
  private static final Pattern NO_PAGE =
      Pattern.compile(
          "/(assets|webjars|api|live|results)(/.*)?|.*[?&](as|download)=.*|.*\\.[a-z]{2,8}(\\?.*)?");
  private static final int FEW = 2;

  private final HttpClient client = HttpClient.newHttpClient();
  private final String home;
  private final String cookie;
  private final int ofAKind;

  /**
   * @param home without a slash at its end
   */
  Crawl(String home) {
    this(home, "none=none");
  }

  /** The same by a browser that keeps these cookies. */
  Crawl(String home, String cookie) {
    this(home, cookie, FEW);
  }

  /** The same with so many pages of each kind at most. */
  Crawl(String home, String cookie, int ofAKind) {
    this.home = home;
    this.cookie = cookie;
    this.ofAKind = ofAKind;
  }

  /** Pages by address. */
  Map<String, String> pages() {
    return pages("/");
  }

  /**
   * The same from these pages on: of each kind those that lie next to the first of them.
   *
   * @param from addresses
   */
  Map<String, String> pages(String... from) {
    Map<String, String> pages = new LinkedHashMap<>();
    Map<String, Integer> kinds = new HashMap<>();
    Deque<String> ahead = new ArrayDeque<>();
    ahead.addAll(List.of(from));
    while (!ahead.isEmpty()) {
      String address = ahead.poll();
      if (pages.containsKey(address) || NO_PAGE.matcher(address).matches()) continue;
      if (kinds.merge(kind(address), 1, Integer::sum) > ofAKind) continue;
      HttpResponse<String> answer = ask(address);
      if (!answer.headers().firstValue("content-type").orElse("").startsWith("text/html")) continue;
      if (answer.statusCode() != 200)
        throw new AssertionError(address + " is linked and answers " + answer.statusCode());
      pages.put(address, answer.body());
      Matcher link = LINK.matcher(answer.body());
      while (link.find()) ahead.add(link.group(1).replace("&amp;", "&"));
    }
    return pages;
  }

  /** An address without what only names one of many: {@code /models/#/compare}. */
  static String kind(String address) {
    String path = address.replaceFirst("\\?.*", "");
    return path.replaceAll("\\d+", "#").replaceFirst("^/(courses|sessions)/[^/]+", "/$1/*");
  }

  HttpResponse<String> ask(String address) {
    try {
      HttpRequest request =
          HttpRequest.newBuilder(URI.create(home + address))
              .header("Accept", "*/*")
              .header("Cookie", cookie)
              .build();
      return client.send(request, BodyHandlers.ofString());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }
}
