package milewarden.web.api;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/**
 * One page of a list.
 *
 * @param nextCursor what to ask for the next page with; null on the last
 * @param unread what is missing of the whole list as its record is damaged, in sentences; left out
 *     where nothing is
 */
record Listing<T>(
    List<T> items,
    Optional<String> nextCursor,
    @JsonInclude(JsonInclude.Include.NON_EMPTY) List<String> unread) {
  Listing {
    items = List.copyOf(items);
    unread = List.copyOf(unread);
  }

  Listing(List<T> items, Optional<String> nextCursor) {
    this(items, nextCursor, List.of());
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

  /** The same, where some of the whole list can't be read. */
  Listing<T> without(List<String> damaged) {
    return new Listing<>(items, nextCursor, damaged);
  }

  <R> Listing<R> map(Function<T, R> each) {
    return new Listing<>(items.stream().map(each).toList(), nextCursor, unread);
  }
}
