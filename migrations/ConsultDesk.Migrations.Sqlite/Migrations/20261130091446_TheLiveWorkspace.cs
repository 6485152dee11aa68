using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ConsultDesk.Migrations.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class TheLiveWorkspace : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "TonightSha256",
                table: "Plans",
                type: "TEXT",
                maxLength: 64,
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Reason",
                table: "Options",
                type: "TEXT",
                maxLength: 500,
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<DateTime>(
                name: "BegunAt",
                table: "Consults",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "UnitChoices",
                table: "Clients",
                type: "TEXT",
                maxLength: 500,
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "Units",
                table: "Clients",
                type: "TEXT",
                maxLength: 20,
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "UnitChoices",
                table: "AspNetUsers",
                type: "TEXT",
                maxLength: 500,
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "Units",
                table: "AspNetUsers",
                type: "TEXT",
                maxLength: 20,
                nullable: true);

            migrationBuilder.CreateTable(
                name: "OwnSituations",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", maxLength: 300, nullable: false),
                    OutdoorC = table.Column<double>(type: "REAL", nullable: false),
                    HumidityPercent = table.Column<double>(type: "REAL", nullable: false),
                    WindMPerS = table.Column<double>(type: "REAL", nullable: false),
                    Falling = table.Column<string>(type: "TEXT", maxLength: 20, nullable: false),
                    SunWPerM2 = table.Column<double>(type: "REAL", nullable: false),
                    People = table.Column<int>(type: "INTEGER", nullable: true),
                    Activity = table.Column<string>(type: "TEXT", maxLength: 20, nullable: false),
                    Hours = table.Column<double>(type: "REAL", nullable: false),
                    SnowOnRoof = table.Column<bool>(type: "INTEGER", nullable: false),
                    Version = table.Column<Guid>(type: "TEXT", nullable: false),
                    FirmId = table.Column<Guid>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_OwnSituations", x => x.Id);
                    table.ForeignKey(
                        name: "FK_OwnSituations_Firms_FirmId",
                        column: x => x.FirmId,
                        principalTable: "Firms",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_OwnSituations_FirmId_Name",
                table: "OwnSituations",
                columns: new[] { "FirmId", "Name" },
                unique: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "OwnSituations");

            migrationBuilder.DropColumn(
                name: "TonightSha256",
                table: "Plans");

            migrationBuilder.DropColumn(
                name: "Reason",
                table: "Options");

            migrationBuilder.DropColumn(
                name: "BegunAt",
                table: "Consults");

            migrationBuilder.DropColumn(
                name: "UnitChoices",
                table: "Clients");

            migrationBuilder.DropColumn(
                name: "Units",
                table: "Clients");

            migrationBuilder.DropColumn(
                name: "UnitChoices",
                table: "AspNetUsers");

            migrationBuilder.DropColumn(
                name: "Units",
                table: "AspNetUsers");
        }
    }
}
