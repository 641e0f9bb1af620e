package milewarden.web;

import java.util.List;

/**
 * What stands around every page: the places that a reader can go to.
 *
 * @param state in which the page was made, for {@link Live}; empty where nobody is told
 * @param data where the page can be had as data: JSON, then each of its tables
 */
public record Frame(String title, List<Place> places, String state, List<Place> data) {
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
        List.of());
  }

  /** The same around a page that was made in this state and can be had as data there. */
  Frame around(String now, List<Place> asData) {
    return new Frame(title, places, now, asData);
  }
}
