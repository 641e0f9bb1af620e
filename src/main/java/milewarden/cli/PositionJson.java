package milewarden.cli;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import milewarden.accuracy.reference.Epoch;
import milewarden.accuracy.reference.PositionErrors;
import milewarden.accuracy.reference.ReferenceTrack.Compared;

/** The positions of a recording against a reference track: every epoch and its statistics. */
final class PositionJson {
  private static final JsonNodeFactory NODES = JsonNodeFactory.instance;

  private PositionJson() {}

  /** Null where not one fix could be compared. */
  static JsonNode of(Compared compared) {
    if (compared.errors().isEmpty()) return NODES.nullNode();
    PositionErrors e = compared.errors().get();
    ObjectNode node =
        NODES
            .objectNode()
            .put("epochs", e.epochs())
            .put("unmatched", compared.unmatched())
            .put("indicative", e.indicative())
            .put("meanEastM", e.meanEastM())
            .put("meanNorthM", e.meanNorthM())
            .put("rmseEastM", e.rmseEastM())
            .put("rmseNorthM", e.rmseNorthM())
            .put("rmseM", e.rmseM())
            .put("cep50M", e.cep50M())
            .put("r95M", e.r95M())
            .put("largestM", e.largestM());
    ObjectNode nssda = node.putObject("nssda95M");
    if (e.nssda95M().isPresent()) nssda.put("stands", e.nssda95M().getAsDouble());
    else nssda.putNull("stands");
    nssda.put("alike", e.nssdaAlikeM()).put("unlike", e.nssdaUnlikeM());
    if (compared.clockDifferenceS().isPresent())
      node.put("clockDifferenceS", compared.clockDifferenceS().getAsDouble());
    else node.putNull("clockDifferenceS");
    ArrayNode each = node.putArray("perEpoch");
    for (Epoch epoch : compared.epochs())
      each.addObject()
          .put("at", epoch.at().toString())
          .put("eastM", epoch.eastM())
          .put("northM", epoch.northM())
          .put("horizontalM", epoch.horizontalM());
    return node;
  }
}
