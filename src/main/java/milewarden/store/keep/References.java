package milewarden.store.keep;

import java.sql.SQLException;
import java.util.List;
import milewarden.store.StoreUnavailable;
import milewarden.store.Tx;
import milewarden.store.keep.StoreFinding.Kind;
import milewarden.store.keep.Tables.Arrow;

/**
 * Whether every row finds what it names: the references that the tables declare, asked of the
 * database itself so that none is forgotten, and those that no table can declare.
 */
final class References {
  /** A sentence of what is wrong, for each row that finds nothing. */
  private static final List<String> RULES =
      List.of(
          """
          select 'Measurement ' || m.id || ' of run ' || m.run_id || ' was made on version '
                 || m.course_version || ' of the course ' || m.course_slug
                 || ', which is not in the store.'
            from measurement m
           where not exists (select 1 from course_version c
                              where c.slug = m.course_slug and c.version = m.course_version)
           order by m.id""",
          """
          select 'The file of version ' || c.version || ' of the course ' || c.slug
                 || ' is not in the store.'
            from course_version c
           where not exists (select 1 from content k where k.sha256 = c.version)
           order by c.id""",
          """
          select 'Run ' || r.id || ' stands for a row of a field sheet that is not in the store.'
            from run r
           where r.file_id is null
             and not exists (select 1 from sheet_row s
                              where s.session = r.row_session and s.unit = r.row_unit
                                and s.pass = r.row_pass)
           order by r.id""",
          """
          select 'Run ' || r.id || ' has no measurement.'
            from run r
           where not exists (select 1 from measurement m where m.run_id = r.id)
           order by r.id""",
          """
          select 'The track ' || f.path || ' counts as measured and has no run.'
            from received_file f
           where f.state = 'measured' and f.kind = 'track'
             and not exists (select 1 from run r where r.file_id = f.id)
             and not exists (select 1 from reference_track t where t.file_id = f.id)
           order by f.id""",
          """
          select 'The file ' || f.path || ' counts as a copy and does not say of which.'
            from received_file f
           where f.state = 'duplicate' and f.duplicate_of is null
           order by f.id""",
          """
          select 'Message ' || o.message_id || ' counts as sent and has no time of sending.'
            from outbox o
           where o.state = 'sent' and o.sent_at is null
           order by o.id""");

  private References() {}

  /** How many rows name another. */
  static long check(Tx tx, List<StoreFinding> findings) {
    long seen = 0;
    for (Arrow arrow : declared(tx)) {
      seen += count(tx, arrow);
      add(tx, lost(arrow), findings);
    }
    for (String rule : RULES) add(tx, rule, findings);
    return seen;
  }

  private static void add(Tx tx, String sql, List<StoreFinding> findings) {
    List<String> wrong = tx.query(sql).mapTo(String.class).list();
    wrong.stream()
        .limit(StoreCheck.MOST_ALIKE)
        .forEach(w -> findings.add(StoreFinding.of(Kind.REFERENCE, w)));
    int more = wrong.size() - StoreCheck.MOST_ALIKE;
    if (more > 0)
      findings.add(StoreFinding.of(Kind.REFERENCE, more + " more like the one before."));
  }

  private static long count(Tx tx, Arrow a) {
    return tx.query("select count(" + a.column() + ") from " + a.table()).mapTo(Long.class).one();
  }

  private static String lost(Arrow a) {
    return "select 'A row of "
        + a.table()
        + " names "
        + a.toTable()
        + " ' || a."
        + a.column()
        + " || ', which is not there.' from "
        + a.table()
        + " a where a."
        + a.column()
        + " is not null and not exists (select 1 from "
        + a.toTable()
        + " b where b."
        + a.toColumn()
        + " = a."
        + a.column()
        + ") order by a."
        + a.column();
  }

  // Names of our own tables alone: nothing from outside reaches the SQL above.
  private static List<Arrow> declared(Tx tx) {
    try {
      return Tables.of(tx.handle().getConnection()).all().stream()
          .flatMap(t -> t.arrows().stream())
          .toList();
    } catch (SQLException e) {
      throw StoreUnavailable.unreachable("The store", e.toString(), e);
    }
  }
}
