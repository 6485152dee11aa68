namespace ConsultDesk.Calculations.Simulation;

/// <summary>One of the headline situations, with weather whether the itinerary has it or not.</summary>
/// <param name="Situation">Weather and use.</param>
/// <param name="Occurs">False when the itinerary never has such weather and the numbers are those of <c>situation-stand-ins.csv</c>.</param>
/// <param name="OccursWhen">When it counts as occurring, in words.</param>
public sealed record NamedSituation(Situation Situation, bool Occurs, string OccursWhen);
