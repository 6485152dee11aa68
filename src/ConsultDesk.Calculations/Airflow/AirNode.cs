namespace ConsultDesk.Calculations.Airflow;

/// <summary>An end of an air path: a zone, or outside.</summary>
public readonly record struct AirNode
{
    private readonly int _zoneIndexPlusOne;

    private AirNode(int zoneIndexPlusOne) => _zoneIndexPlusOne = zoneIndexPlusOne;

    /// <summary>The air outside; the value of <c>default</c>.</summary>
    public static AirNode Outside => default;

    /// <summary>True for outside.</summary>
    public bool IsOutside => _zoneIndexPlusOne == 0;

    /// <summary>Position of the zone in the order the zones were added, from 0; -1 for outside.</summary>
    public int ZoneIndex => _zoneIndexPlusOne - 1;

    internal static AirNode Zone(int index) => new(index + 1);
}
