package milewarden.store.file;

import java.util.ArrayList;
import java.util.List;
import milewarden.track.TagName;

/**
 * Answers that are proposed for a tag that a file waits for.
 *
 * @param subject what the question is about, where a tag answers several; may be empty
 * @param answers in order of likelihood; none is taken before the tester chooses it
 */
public record Offer(TagName name, String subject, List<String> answers) {
  public Offer {
    answers = List.copyOf(answers);
    // The signs that part the stored text.
    subject = subject.replaceAll("[\\t\\r\\n]", " ");
    if (answers.stream().anyMatch(a -> a.matches("(?s).*[|\\t\\n].*")))
      throw new IllegalArgumentException("answers: " + answers);
  }

  static String join(List<Offer> offers) {
    return String.join(
        "\n",
        offers.stream()
            .map(o -> o.name.code() + "\t" + o.subject + "\t" + String.join("|", o.answers))
            .toList());
  }

  static List<Offer> split(String text) {
    List<Offer> offers = new ArrayList<>();
    for (String line : text.split("\n", -1)) {
      String[] cells = line.split("\t", -1);
      if (cells.length == 3)
        TagName.of(cells[0])
            .ifPresent(n -> offers.add(new Offer(n, cells[1], List.of(cells[2].split("\\|")))));
    }
    return offers;
  }
}
