package milewarden.store.judged;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import milewarden.store.Id.VerdictId;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.replay.CapsuleContents;

/** What the figures of published verdicts rest on, written once with the verdict. */
public final class Capsules {
  private static final String ADD =
      """
      insert into capsule (verdict_id, contents) values (:verdict, :contents)""";
  private static final String FIND =
      """
      select contents from capsule where verdict_id = :verdict""";
  // Doubles carry 15 to 17 digits; functions of other processors may differ in the last of them.
  private static final double DIGITS = 1e-9;

  private Capsules() {}

  /**
   * A value that differs.
   *
   * @param name of the value, its parts joined by points
   */
  public record Difference(String name, String published, String found) {}

  /** Keeps what a verdict rests on, in the transaction that publishes it. */
  public static void put(Tx tx, VerdictId verdict, CapsuleContents contents) {
    tx.update(ADD).bind("verdict", verdict).bind("contents", Json.write(contents)).execute();
  }

  /** Empty where the verdict was published before capsules were kept. */
  public static Optional<CapsuleContents> find(Tx tx, VerdictId verdict) {
    return tx.query(FIND)
        .bind("verdict", verdict)
        .map(Row.as(r -> read(r.text("contents"))))
        .findOne();
  }

  /** As text, for the archive. */
  public static String text(Object record) {
    return Json.pretty(record);
  }

  /**
   * What {@link #text} wrote.
   *
   * @throws IllegalStateException where it is none
   */
  public static CapsuleContents read(String json) {
    return Json.read(json, CapsuleContents.class);
  }

  /** The first value in which two records differ; numbers are alike to nine digits. */
  public static Optional<Difference> first(Object published, Object found) {
    Map<String, JsonNode> one = flat(published);
    Map<String, JsonNode> other = flat(found);
    TreeSet<String> names = new TreeSet<>(one.keySet());
    names.addAll(other.keySet());
    for (String name : names) {
      JsonNode a = one.get(name);
      JsonNode b = other.get(name);
      if (a == null || b == null || !alike(a, b))
        return Optional.of(
            new Difference(
                name, a == null ? "nothing" : a.asText(), b == null ? "nothing" : b.asText()));
    }
    return Optional.empty();
  }

  private static boolean alike(JsonNode a, JsonNode b) {
    if (!a.isNumber() || !b.isNumber()) return a.equals(b);
    double x = a.asDouble();
    double y = b.asDouble();
    return Math.abs(x - y) <= DIGITS * Math.max(1e-3, Math.max(Math.abs(x), Math.abs(y)));
  }

  private static Map<String, JsonNode> flat(Object record) {
    Map<String, JsonNode> all = new LinkedHashMap<>();
    ObjectNode tree = Json.tree(Json.write(record));
    flatten("", tree, all);
    return all;
  }

  private static void flatten(String name, JsonNode node, Map<String, JsonNode> into) {
    if (node.isObject())
      node.fields().forEachRemaining(e -> flatten(part(name, e.getKey()), e.getValue(), into));
    else if (node.isArray())
      for (int i = 0; i < node.size(); i++) flatten(part(name, "" + i), node.get(i), into);
    else into.put(name, node);
  }

  private static String part(String name, String next) {
    return name.isEmpty() ? next : name + "." + next;
  }
}
