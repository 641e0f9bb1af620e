package milewarden.web.api;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.util.Arrays;
import java.util.List;
import milewarden.report.answer.HeadToHeadAnswer;
import milewarden.review.SideBySide;
import milewarden.store.Database;
import milewarden.verdict.Policy;
import milewarden.web.Routes;

/** Models head to head, as JSON. */
public final class HeadToHeadApi implements Routes {
  public static final String ADDRESS = "/api/v1/head-to-head";

  private final Database database;
  private final Policy policy;

  public HeadToHeadApi(Database database, Policy policy) {
    this.database = database;
    this.policy = policy;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get(
        ADDRESS,
        http -> {
          SideBySide.Found found = database.read(tx -> SideBySide.of(tx, asked(http), policy));
          Answers.json(http, HeadToHeadAnswer.of(found.head(), found.unread()));
        });
  }

  /** What was asked for: {@code models}, several or parted by commas. */
  public static List<String> asked(Context http) {
    return http.queryParams("models").stream()
        .flatMap(m -> Arrays.stream(m.split(",")))
        .map(String::strip)
        .filter(m -> !m.isEmpty())
        .toList();
  }
}
