package milewarden.web.api;

import io.javalin.http.Context;
import io.javalin.http.NotFoundResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.DamageWords;
import milewarden.report.Words;
import milewarden.report.answer.ComparisonAnswer;
import milewarden.review.ModelNamed;
import milewarden.review.Origins;
import milewarden.store.Database;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.judged.JudgedBriefly;
import milewarden.store.run.Models;
import milewarden.verdict.Findings;

/** Every release held against the others, of one model or of all. */
final class Comparisons {
  private final Database database;

  Comparisons(Database database) {
    this.database = database;
  }

  /** With {@code strips=true} also where along the courses they differ, which takes longer. */
  void list(Context http) {
    Slice slice = Slice.of(http);
    boolean strips = "true".equals(http.queryParam("strips"));
    Optional<String> model = Optional.ofNullable(http.queryParam("model"));
    Answers.json(http, database.read(tx -> list(tx, model, strips, slice)));
  }

  private static Listing<ComparisonAnswer> list(
      Tx tx, Optional<String> model, boolean strips, Slice slice) {
    model.ifPresent(name -> requireModel(tx, name));
    List<ComparisonAnswer> answers = new ArrayList<>();
    List<ModelId> unread = new ArrayList<>();
    JudgedBriefly.readable(tx, unread)
        .forEach(
            (id, judged) -> {
              if (model.isPresent() && !judged.model().equalsIgnoreCase(model.get())) return;
              for (Findings.OfComparison c : judged.comparisons()) {
                ComparisonAnswer answer = ComparisonAnswer.of(judged, c);
                answers.add(strips ? answer.with(Origins.strips(tx, id, c)) : answer);
              }
            });
    List<String> missing =
        Models.names(tx, unread).stream()
            .filter(name -> model.isEmpty() || name.equalsIgnoreCase(model.get()))
            .toList();
    return Listing.of(answers, slice)
        .without(
            missing.isEmpty()
                ? List.of()
                : List.of(DamageWords.without(String.join(", ", missing))));
  }

  private static void requireModel(Tx tx, String name) {
    ModelNamed named = ModelNamed.whole(tx, name);
    if (named.model().isEmpty()) throw new NotFoundResponse(Words.capital(named.sentence()) + ".");
  }
}
