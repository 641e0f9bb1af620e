package milewarden.format.xml;

import java.io.ByteArrayInputStream;
import java.util.ArrayList;
import java.util.List;
import javax.xml.stream.XMLStreamConstants;
import javax.xml.stream.XMLStreamException;
import milewarden.geodesy.Position;
import org.codehaus.stax2.XMLStreamReader2;

/**
 * The routes ({@code rte}) of a GPX file. A route is drawn and not recorded: it makes a centreline
 * and never a run, so it is no matter of the track reader. A time in a route point is a plan and is
 * not read.
 *
 * @param routes each with its points in order; routes without a point are left out
 * @param unusable points without a position on the globe
 * @see "GPX 1.1 schema documentation, rteType"
 */
public record GpxRoutes(List<List<Position>> routes, int unusable) {
  private static final GpxRoutes NONE = new GpxRoutes(List.of(), 0);

  /** As many as a drawn line may reasonably have: our own choice. */
  private static final int MOST_POINTS = 100_000;

  public GpxRoutes {
    if (unusable < 0) throw new IllegalArgumentException("unusable points: " + unusable);
    routes = List.copyOf(routes);
  }

  /** Reads a whole file; one that isn't GPX, has no route or breaks off has none. */
  public static GpxRoutes read(byte[] bytes) {
    try {
      return walk(XmlStreams.open(new ByteArrayInputStream(bytes)));
    } catch (XMLStreamException | com.fasterxml.aalto.UncheckedStreamException e) {
      return NONE;
    }
  }

  private static GpxRoutes walk(XMLStreamReader2 xml) throws XMLStreamException {
    List<List<Position>> routes = new ArrayList<>();
    List<Position> route = new ArrayList<>();
    int points = 0;
    int unusable = 0;
    boolean first = true;
    while (xml.hasNext()) {
      int event = xml.next();
      // A document type is refused everywhere: it is the door of entity bombs.
      if (event == XMLStreamConstants.DTD) return NONE;
      if (event != XMLStreamConstants.START_ELEMENT) continue;
      String name = xml.getLocalName();
      if (first && !name.equals("gpx")) return NONE;
      first = false;
      if (name.equals("rte")) {
        if (!route.isEmpty()) routes.add(List.copyOf(route));
        route.clear();
      } else if (name.equals("rtept")) {
        if (++points > MOST_POINTS) return NONE;
        if (!addPoint(xml, route)) unusable++;
      }
    }
    if (!route.isEmpty()) routes.add(List.copyOf(route));
    return new GpxRoutes(routes, unusable);
  }

  private static boolean addPoint(XMLStreamReader2 xml, List<Position> route) {
    double latitude = number(xml, "lat");
    double longitude = number(xml, "lon");
    // NaN fails both comparisons.
    if (!(Math.abs(latitude) < 90 && Math.abs(longitude) <= 180)) return false;
    route.add(new Position(latitude, longitude));
    return true;
  }

  private static double number(XMLStreamReader2 xml, String attribute) {
    for (int i = 0; i < xml.getAttributeCount(); i++)
      if (xml.getAttributeLocalName(i).equals(attribute)) {
        try {
          return Double.parseDouble(xml.getAttributeValue(i).strip());
        } catch (NumberFormatException e) {
          return Double.NaN;
        }
      }
    return Double.NaN;
  }
}
