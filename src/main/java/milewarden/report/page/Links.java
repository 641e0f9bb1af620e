package milewarden.report.page;

import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;

/** Addresses of the pages. */
public final class Links {
  private Links() {}

  public static String model(long id) {
    return "/models/" + id;
  }

  public static String comparison(long modelId, String candidate, String baseline) {
    return model(modelId) + "/compare?candidate=" + part(candidate) + "&baseline=" + part(baseline);
  }

  /** All sessions of a model. */
  public static String sessions(long modelId) {
    return model(modelId) + "/sessions";
  }

  public static String plan(long modelId) {
    return model(modelId) + "/plan";
  }

  /** The field sheet of a model's next session. */
  public static String sheet(long modelId) {
    return model(modelId) + "/sheet";
  }

  /** The field sheet of the session of this name. */
  public static String sheet(long modelId, String session) {
    return sheet(modelId) + "?session=" + part(session);
  }

  public static String session(String key) {
    return "/sessions/" + part(key);
  }

  public static String run(long id) {
    return "/runs/" + id;
  }

  public static String result(long id) {
    return "/results/" + id;
  }

  public static String course(String slug) {
    return "/courses/" + slug;
  }

  public static String verdict(long modelId, int number) {
    return "/verdicts/" + modelId + "/" + number;
  }

  public static String verdictReport(long modelId, int number) {
    return verdict(modelId, number) + "/report.html";
  }

  /** The report on a release by today's figures. */
  public static String report(long modelId, String firmware) {
    return model(modelId) + "/report.html?firmware=" + part(firmware);
  }

  public static String verdictDraft(long modelId, String firmware) {
    return "/verdicts/draft?model=" + modelId + "&firmware=" + part(firmware);
  }

  /** The form that acknowledges an item or puts it off. */
  public static String handling(long item) {
    return "/alerts/items/" + item;
  }

  /** Who is told, with the choice of one of them in the form. */
  public static String mail(String address) {
    return "/settings/mail?address=" + part(address) + "#choice";
  }

  private static String part(String text) {
    // A plus means a space in a query only; in a path it is itself.
    return URLEncoder.encode(text, StandardCharsets.UTF_8).replace("+", "%20");
  }
}
