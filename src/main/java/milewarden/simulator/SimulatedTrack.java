package milewarden.simulator;

import java.util.OptionalDouble;
import milewarden.track.Track;

/**
 * A recording as the device would have written it, and the truth about it.
 *
 * @param recordedM the device's own total in metres; empty where it counts none
 */
public record SimulatedTrack(Track track, Truth truth, OptionalDouble recordedM) {}
