namespace ConsultDesk.Calculations.Vehicle;

/// <summary>
/// A rectangle on a face of the body, m: along the van and across or upwards; on nose and tail across the van and upwards.
/// </summary>
internal readonly record struct FaceBox(Face Face, double AlongLowM, double AlongHighM, double AcrossLowM, double AcrossHighM)
{
    public static FaceBox Of(Opening opening) => Of(
        opening.Face, opening.X.Meters, opening.Y.Meters, opening.Z.Meters, opening.Length.Meters, opening.Width.Meters);

    public static FaceBox Of(HiddenPart part) => Of(
        part.Face, part.X.Meters, part.Y.Meters, part.Z.Meters, part.Length.Meters, part.Width.Meters);

    public static FaceBox Of(RoofPart part) => Of(
        Face.Roof, part.X.Meters, part.Y.Meters, zM: 0, part.Length.Meters, part.Width.Meters);

    /// <summary>True when both lie on the same face and share more than the edges.</summary>
    public bool Overlaps(FaceBox other) => SharedM2(other) > 0;

    /// <summary>Area both take up; zero where they share no more than the edges.</summary>
    public double SharedM2(FaceBox other)
    {
        double alongM = Math.Min(AlongHighM, other.AlongHighM) - Math.Max(AlongLowM, other.AlongLowM);
        double acrossM = Math.Min(AcrossHighM, other.AcrossHighM) - Math.Max(AcrossLowM, other.AcrossLowM);
        return Face == other.Face && alongM > Openings.EdgeToleranceM && acrossM > Openings.EdgeToleranceM ? alongM * acrossM : 0;
    }

    private static FaceBox Of(Face face, double xM, double yM, double zM, double lengthM, double widthM)
    {
        double alongM = face is Face.Nose or Face.Tail ? yM : xM;
        double acrossM = face is Face.Roof or Face.Floor ? yM : zM;
        return new FaceBox(face, alongM - (lengthM / 2), alongM + (lengthM / 2), acrossM - (widthM / 2), acrossM + (widthM / 2));
    }
}
