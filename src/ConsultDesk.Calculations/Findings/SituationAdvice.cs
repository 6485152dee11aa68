using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings;

/// <summary>An opening as the card advises it.</summary>
/// <param name="OpeningId">The opening.</param>
/// <param name="Position">How far to open it.</param>
/// <param name="FanSpeed">Speed of its fan as a share of full speed; 0 without a fan or when it stays off.</param>
/// <param name="Differs">True when the design has it another way.</param>
public sealed record AdvisedOpening(string OpeningId, Position Position, double FanSpeed, bool Differs);

/// <summary>What the running card says to one situation, in words and opening by opening.</summary>
/// <param name="Cell">The cell: aim, instructions and what they gain.</param>
/// <param name="Openings">Every opening of the design as it is built now; what its instructions do not name stays as it is.</param>
/// <param name="Tried">Settings tried.</param>
public sealed record SituationAdvice(CardCell Cell, ImmutableArray<AdvisedOpening> Openings, int Tried)
{
    /// <summary>True when the design has every opening as advised.</summary>
    public bool IsFollowed => Openings.All(opening => !opening.Differs);

    /// <summary>
    /// The design with its openings and fans set as advised. Openings it no longer has, or has not yet, are passed over;
    /// those that stand as advised are left alone.
    /// </summary>
    public Design Apply(Design design)
    {
        ArgumentNullException.ThrowIfNull(design);
        Dictionary<string, AdvisedOpening> changes = Openings.Where(opening => opening.Differs).ToDictionary(opening => opening.OpeningId);
        return changes.Count == 0 ? design : design with
        {
            Openings =
            [
                .. design.Openings.Select(opening => changes.TryGetValue(opening.Id, out AdvisedOpening? advised)
                    ? opening with { Position = advised.Position, Fan = opening.Fan is Fan fan ? fan with { Speed = advised.FanSpeed } : null }
                    : opening),
            ],
        };
    }
}
