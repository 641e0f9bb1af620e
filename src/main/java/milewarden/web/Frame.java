package milewarden.web;

import java.util.List;
import milewarden.units.UnitChoice;

/**
 * What stands around every page: the places that a reader can go to, and who they are.
 *
 * @param state in which the page was made, for {@link Live}; empty where nobody is told
 * @param measures in which lengths are drawn
 * @param data where the page can be had as data: JSON, then each of its tables
 * @param who the name of who signed in; empty where nobody did
 * @param role by which the page leaves out what is not theirs; its code
 * @param csrf of the form that leaves
 */
public record Frame(
    String title,
    List<Place> places,
    String state,
    Measures measures,
    List<Place> data,
    String who,
    String role,
    String csrf) {
  public Frame {
    places = List.copyOf(places);
    data = List.copyOf(data);
  }

  /** A link, such as an entry of the navigation. */
  public record Place(String href, String label, boolean here) {}

  private static final List<Place> ALL =
      List.of(
          new Place("/", "Overview", false),
          new Place("/due", "Due", false),
          new Place("/intake", "Intake", false),
          new Place("/courses", "Courses", false),
          new Place("/verdicts", "Verdicts", false),
          new Place("/alerts", "Alerts", false),
          new Place("/settings", "Settings", false));

  /** The frame of a page that belongs to the place at {@code href}. */
  public static Frame of(String title, String href) {
    return new Frame(
        title,
        ALL.stream().map(p -> new Place(p.href(), p.label(), p.href().equals(href))).toList(),
        "",
        Measures.of(UnitChoice.METRIC, "en-GB"),
        List.of(),
        "",
        "keeper",
        "");
  }

  /** The same around a page that was made in this state and can be had as data there. */
  Frame around(String now, Measures read, List<Place> asData) {
    return new Frame(title, places, now, read, asData, who, role, csrf);
  }

  /** The frame of a page from which nobody goes elsewhere: the log-in. */
  public static Frame alone(String title) {
    Frame usual = of(title, "");
    return new Frame(title, List.of(), "", usual.measures(), List.of(), "", "reader", "");
  }

  /** As this visitor sees it. */
  Frame seenBy(Visitor visitor, String token) {
    return new Frame(
        title,
        places,
        state,
        measures,
        data,
        visitor.signedIn() ? visitor.actor().name() : "",
        visitor.role().code(),
        token);
  }

  /**
   * In which units and numerals charts are drawn.
   *
   * @param symbol of lengths on the ground: {@code m}
   * @param ground the same in words: {@code metres}
   * @param perRoad of slopes: {@code metres per kilometre}
   * @param speed {@code kilometres an hour}
   * @param locale a language tag, for numerals
   */
  public record Measures(
      String symbol, String ground, String perRoad, String speed, String locale) {
    /** Of a reader's choice. */
    static Measures of(UnitChoice units, String locale) {
      return units == UnitChoice.METRIC
          ? new Measures("m", "metres", "metres per kilometre", "kilometres an hour", locale)
          : new Measures("ft", "feet", "feet per mile", "miles an hour", locale);
    }
  }
}
