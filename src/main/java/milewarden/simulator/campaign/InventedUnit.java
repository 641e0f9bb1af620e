package milewarden.simulator.campaign;

import java.util.Optional;
import milewarden.device.Carriage;

/**
 * A physical device of the invented campaign.
 *
 * @param name as the tester labels it
 * @param model its model's name
 * @param control true where its firmware is left alone
 * @param wrist how it is carried where arms swing
 * @param slot where it is carried
 * @param display how it shows distances; empty where nothing is noted
 */
public record InventedUnit(
    String name,
    String model,
    boolean control,
    Carriage wrist,
    String slot,
    Optional<Display> display) {}
