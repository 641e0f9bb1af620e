package milewarden.intake.doubt;

import java.util.List;
import milewarden.store.file.Offer;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.track.TagName;

/**
 * A question.
 *
 * @param asks the tag that answers it
 * @param offers what is proposed; empty where the tester must write it
 */
public record Doubt(TagName asks, Reason why, List<Offer> offers) {
  public Doubt {
    offers = List.copyOf(offers);
  }

  static Doubt of(TagName asks, String code, String sentence, List<Offer> offers) {
    return new Doubt(asks, new Reason(code, "", sentence), offers);
  }
}
