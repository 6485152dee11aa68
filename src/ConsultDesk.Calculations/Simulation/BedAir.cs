using System.Collections.Immutable;
using ConsultDesk.Calculations.Comfort;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// Air speed over the sleepers: the largest of what each opening of the bed's zone makes there, as a free jet where air
/// comes in and as a sink where it goes out (<see cref="FreeJet"/>), and of a circulation fan of that zone. So a fan that
/// blows out gives almost none, and the breeze is at the window it draws through.
/// </summary>
/// <remarks>
/// Jets are taken at the room's temperature and straight to the middle of the bed. Air that comes in elsewhere has lost its
/// speed by the time it gets here. A cover hung before a window breaks its jet.
/// </remarks>
internal sealed class BedAir
{
    // Height of a lying body's middle over the mattress. Our judgement.
    private const double LyingM = 0.15;

    private readonly NightModel _model;
    private readonly ImmutableArray<Mouth> _mouths;
    private readonly double _decay;
    private readonly double _share;
    private readonly double _fanMPerS;

    private readonly record struct Mouth(int Opening, double FullM2, double Contraction, double DistanceM);

    /// <summary>Finds the openings of the bed's zone.</summary>
    /// <param name="model">A model with a path for every opening.</param>
    public BedAir(NightModel model)
    {
        _model = model;
        Design design = model.Design;
        Zone bed = design.Zones[model.FirstOf(ZoneKind.Sleeping)];
        _decay = model.Assumed["jet-decay"];
        _share = model.Assumed["jet-share"];
        _fanMPerS = NightModel.RunningFans(design).Any(fan => fan.ZoneA == bed.Id || fan.ZoneB == bed.Id) ? model.Assumed["breeze-circulation-fan"] : 0;
        (double X, double Y, double Z) sleepers = Sleepers(design, bed);
        _mouths =
        [
            .. Enumerable.Range(0, design.Openings.Length)
                .Where(index => design.Openings[index].ZoneId == bed.Id && model.OpeningPaths[index] is not null)
                .Select(index => MouthOf(design, index, sleepers)),
        ];
    }

    /// <summary>Air speed over the sleepers at the latest air flows.</summary>
    public double SpeedMPerS(VanAir air) => SpeedMPerS(air.Lanes, lane: 0);

    /// <summary>The same of one lane.</summary>
    public double SpeedMPerS<TLane>(VanAirLanes<TLane> air, int lane)
        where TLane : struct, ILane<TLane>
    {
        double density = air.Flow.Density[_model.ZoneCount][lane];
        double fastest = _fanMPerS;
        foreach (Mouth mouth in _mouths)
        {
            double freeM2 = mouth.FullM2 * air.OpenShare[air.PlaceOf(lane, mouth.Opening)][lane];
            if (freeM2 > 0)
            {
                int path = air.PathOf(lane, mouth.Opening);
                fastest = Math.Max(fastest, SpeedMPerS(mouth, freeM2, air.Flow.BackKgPerS(path)[lane] / density, air.Flow.OutKgPerS(path)[lane] / density));
            }
        }

        return fastest;
    }

    /// <summary>Middle of the sleepers: over the bed that lies in the zone, or over the middle of the zone's lower end.</summary>
    internal static (double X, double Y, double Z) Sleepers(Design design, Zone bed)
    {
        Furniture? mattress = design.Body.Furniture
            .Where(piece => piece.Kind is FurnitureKind.Bed or FurnitureKind.Lounge)
            .OrderBy(piece => piece.Kind)
            .FirstOrDefault(piece => piece.X.Meters < bed.To.Meters && piece.X.Meters + piece.Length.Meters > bed.From.Meters);
        return mattress is null
            ? ((bed.From.Meters + bed.To.Meters) / 2, design.Body.InteriorWidth.Meters / 2, bed.Bottom.Meters + LyingM)
            : (
                mattress.X.Meters + (mattress.Length.Meters / 2),
                mattress.Y.Meters + (mattress.Width.Meters / 2),
                mattress.Z.Meters + mattress.Height.Meters + LyingM);
    }

    private Mouth MouthOf(Design design, int index, (double X, double Y, double Z) sleepers)
    {
        Opening opening = design.Openings[index];
        Body body = design.Body;
        double x = opening.Face switch { Face.Nose => 0, Face.Tail => body.InteriorLength.Meters, _ => opening.X.Meters };
        double y = opening.Face switch { Face.Left => 0, Face.Right => body.InteriorWidth.Meters, _ => opening.Y.Meters };
        double z = opening.Face switch { Face.Floor => 0, Face.Roof => body.InteriorHeight.Meters, _ => opening.Z.Meters };
        double distanceM = Math.Sqrt(Math.Pow(x - sleepers.X, 2) + Math.Pow(y - sleepers.Y, 2) + Math.Pow(z - sleepers.Z, 2));
        // A screen and a fan's tube leave no contraction behind them.
        double contraction = opening.Facts.Screened || opening.Fan is not null ? 1 : _model.Assumed["discharge-coefficient"];
        bool covered = opening.Pane is { Cover: not Cover.None };
        return new Mouth(index, covered ? 0 : Openings.FullFreeArea(opening).SquareMeters, contraction, distanceM);
    }

    private double SpeedMPerS(in Mouth mouth, double freeM2, double inM3PerS, double outM3PerS) => Math.Max(
        _share * FreeJet.Axis(inM3PerS, freeM2 * mouth.Contraction, mouth.DistanceM, _decay),
        FreeJet.Drawn(outM3PerS, freeM2, mouth.DistanceM));
}
