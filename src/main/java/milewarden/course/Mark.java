package milewarden.course;

import java.util.OptionalDouble;
import milewarden.geodesy.Position;

/** A physical point on the ground that belongs to the course. */
public record Mark(Role role, Position position, OptionalDouble chainageM, String name) {
  /** What the mark is for. */
  public enum Role {
    START,
    FINISH,
    CONTROL
  }
}
