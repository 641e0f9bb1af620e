package milewarden.web.api;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/**
 * One page of a list.
 *
 * @param nextCursor what to ask for the next page with; null on the last
 */
record Listing<T>(List<T> items, Optional<String> nextCursor) {
  Listing {
    items = List.copyOf(items);
  }

  /** A page of a list that is whole. */
  static <T> Listing<T> of(List<T> all, Slice slice) {
    int from = Math.min(slice.offset(), all.size());
    int to = Math.min(from + slice.limit(), all.size());
    return new Listing<>(
        all.subList(from, to), to < all.size() ? Optional.of(slice.next()) : Optional.empty());
  }

  /** A page of which one item more was asked for, to know whether another follows. */
  static <T> Listing<T> ofOneMore(List<T> page, Slice slice) {
    boolean more = page.size() > slice.limit();
    return new Listing<>(
        more ? page.subList(0, slice.limit()) : page,
        more ? Optional.of(slice.next()) : Optional.empty());
  }

  <R> Listing<R> map(Function<T, R> each) {
    return new Listing<>(items.stream().map(each).toList(), nextCursor);
  }
}
