package milewarden.store;

import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jdbi.v3.core.Handle;

/**
 * Of which models a transaction moved what answers about them rest on. A new recording moves the
 * models that are marked with it; whatever isn't known to stay within them moves all.
 */
final class Moved {
  private static final Pattern CHANGE =
      Pattern.compile("(?:insert into|update|delete from) (\\w+)\\b");

  /** Of files, people, messages, and of what the judge makes of the evidence: no evidence. */
  private static final Set<String> NO_EVIDENCE =
      Set.of(
          "aa_replay",
          "api_token",
          "batch",
          "capsule",
          "change_record",
          "comparison",
          "content",
          "content_part",
          "digest",
          "digest_item",
          "due_event",
          "due_item",
          "judgement",
          "look",
          "mark",
          "outbox",
          "person",
          "received_file",
          "recipient",
          "said",
          "sheet_row",
          "sign_in",
          "station",
          "tag",
          "told_item",
          "unit_variance");

  /**
   * What comes with a new recording, in the transaction that marks its models: no release, no
   * condition and no order of other passes changes with it.
   */
  private static final List<String> WITH_A_RECORDING =
      List.of("insert into run ", "insert into session ", "update session set last_start = ");

  /** Written anew only with their run, which marks its models as well. */
  private static final Set<String> OF_A_RUN = Set.of("measurement", "result");

  private static final Map<String, Reach> KNOWN = new ConcurrentHashMap<>();

  private static final String SOME = "update model set moved = moved + 1 where id = :model";
  private static final String ALL = "update model set moved = moved + 1";

  private enum Reach {
    NONE,
    THE_MARKED,
    ALL
  }

  private final Set<Long> models = new HashSet<>();
  private boolean some;
  private boolean all;

  /** This statement changed rows. */
  void by(String sql) {
    switch (KNOWN.computeIfAbsent(sql, Moved::reach)) {
      case NONE -> {}
      case THE_MARKED -> some = true;
      case ALL -> all = true;
    }
  }

  private static Reach reach(String sql) {
    String plain = sql.strip().replaceAll("\\s+", " ");
    Matcher change = CHANGE.matcher(plain);
    if (!change.lookingAt()) return Reach.ALL;
    String table = change.group(1);
    // How a file is to be told, put by with every file and sheet that is settled.
    if (NO_EVIDENCE.contains(table) || plain.startsWith("update run set anew = "))
      return Reach.NONE;
    return OF_A_RUN.contains(table) || WITH_A_RECORDING.stream().anyMatch(plain::startsWith)
        ? Reach.THE_MARKED
        : Reach.ALL;
  }

  /** Something about this model changed. */
  void model(long id) {
    models.add(id);
  }

  /** Counts it, in the transaction that moved it. */
  void count(Handle handle) {
    if (all || some && models.isEmpty()) handle.createUpdate(ALL).execute();
    else for (long model : models) handle.createUpdate(SOME).bind("model", model).execute();
  }
}
