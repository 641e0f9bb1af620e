package milewarden.review;

import java.util.List;
import milewarden.verdict.replay.Moves;

/**
 * What a change would move, tried over the whole history before anything is written.
 *
 * @param moves of the models where something would move, by name
 * @param models that were judged
 * @param runs that were measured anew for it; 0 where only the rules change
 * @param lost runs that could not be measured any more, in words: session and unit
 * @param messages due items that somebody would be told of: their cause was never told before
 */
public record Forecast(List<Moves> moves, int models, int runs, List<String> lost, int messages) {
  public Forecast {
    moves = List.copyOf(moves);
    lost = List.copyOf(lost);
  }

  /** True where nothing would move. */
  public boolean none() {
    return moves.isEmpty() && lost.isEmpty();
  }
}
