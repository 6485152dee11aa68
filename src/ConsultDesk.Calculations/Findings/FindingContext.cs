using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings;

/// <summary>What a rule judges: a design, its assessment, and the means to try a remedy before proposing it.</summary>
/// <param name="Design">The design.</param>
/// <param name="Assessment">Its assessment, still without findings.</param>
/// <param name="Reassess">Assesses a changed design in the same night.</param>
internal sealed record FindingContext(Design Design, Assessment Assessment, Func<Design, Assessment> Reassess);
