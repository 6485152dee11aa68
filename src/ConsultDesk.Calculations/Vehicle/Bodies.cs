using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Pure edits of the body as a whole.</summary>
public static class Bodies
{
    /// <summary>
    /// The design in a body of another inside size: zones, passages, furniture and every place follow in proportion, air
    /// volumes with the product of the three, and gaps with the width and the height they stand in. What is made to a size
    /// of its own (openings, panes, what lies on the roof) keeps that, and a fitted part its place; where it no longer fits, <see cref="DesignCheck"/> says so.
    /// </summary>
    /// <param name="design">The design.</param>
    /// <param name="length">Inside length, <see cref="DesignLimits.InteriorLength"/>.</param>
    /// <param name="width">Inside width, <see cref="DesignLimits.InteriorWidth"/>.</param>
    /// <param name="height">Inside height, <see cref="DesignLimits.InteriorHeight"/>.</param>
    public static Design Resized(Design design, Length length, Length width, Length height)
    {
        ArgumentNullException.ThrowIfNull(design);
        Body body = design.Body;
        double along = length.Meters / body.InteriorLength.Meters;
        double across = width.Meters / body.InteriorWidth.Meters;
        double up = height.Meters / body.InteriorHeight.Meters;
        BodyPoint? Moved(BodyPoint? point) => point is null ? null : point with
        {
            X = point.X * along,
            Y = point.Y * across,
            // What ends below the floor hangs from it, not from the roof.
            Z = point.Z > Length.Zero ? point.Z * up : point.Z,
        };
        return design with
        {
            Body = body with
            {
                InteriorLength = length,
                InteriorWidth = width,
                InteriorHeight = height,
                Furniture =
                [
                    .. body.Furniture.Select(piece => piece with
                    {
                        X = piece.X * along,
                        Y = piece.Y * across,
                        Z = piece.Z * up,
                        Length = piece.Length * along,
                        Width = piece.Width * across,
                        Height = piece.Height * up,
                    }),
                ],
                HiddenParts =
                [
                    .. body.HiddenParts.Select(part => part with
                    {
                        X = part.X * along,
                        Y = part.Y * across,
                        Z = part.Z * up,
                        Length = part.Length * (part.Face is Face.Nose or Face.Tail ? across : along),
                        Width = part.Width * (part.Face is Face.Roof or Face.Floor ? across : up),
                    }),
                ],
                RoofParts = [.. body.RoofParts.Select(part => part.State == PartState.Fitted ? part : part with { X = part.X * along, Y = part.Y * across })],
            },
            Zones =
            [
                .. design.Zones.Select(zone => zone with
                {
                    From = zone.From * along,
                    To = zone.To * along,
                    Bottom = zone.Bottom * up,
                    Top = zone.Top * up,
                    AirVolume = zone.AirVolume * (along * across * up),
                    Cupboard = zone.Cupboard is CupboardPlace place ? place with { Depth = place.Depth * across } : null,
                }),
            ],
            Passages =
            [
                .. design.Passages.Select(passage => passage with
                {
                    Bottom = passage.Bottom * up,
                    Top = passage.Top * up,
                    FreeArea = passage.FreeArea * (across * up),
                }),
            ],
            Openings = [.. design.Openings.Select(opening => opening.State == PartState.Fitted ? opening : opening with { X = opening.X * along, Y = opening.Y * across, Z = opening.Z * up })],
            Equipment = design.Equipment with
            {
                HeaterExhaust = Moved(design.Equipment.HeaterExhaust),
                GasLocker = Moved(design.Equipment.GasLocker),
            },
        };
    }
}
