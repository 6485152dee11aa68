using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ConsultDesk.Migrations.Postgres.Migrations
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
                type: "character varying(64)",
                maxLength: 64,
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Reason",
                table: "Options",
                type: "character varying(500)",
                maxLength: 500,
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<DateTime>(
                name: "BegunAt",
                table: "Consults",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "UnitChoices",
                table: "Clients",
                type: "character varying(500)",
                maxLength: 500,
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "Units",
                table: "Clients",
                type: "character varying(20)",
                maxLength: 20,
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "UnitChoices",
                table: "AspNetUsers",
                type: "character varying(500)",
                maxLength: 500,
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "Units",
                table: "AspNetUsers",
                type: "character varying(20)",
                maxLength: 20,
                nullable: true);

            migrationBuilder.CreateTable(
                name: "OwnSituations",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "character varying(300)", maxLength: 300, nullable: false),
                    OutdoorC = table.Column<double>(type: "double precision", nullable: false),
                    HumidityPercent = table.Column<double>(type: "double precision", nullable: false),
                    WindMPerS = table.Column<double>(type: "double precision", nullable: false),
                    Falling = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    SunWPerM2 = table.Column<double>(type: "double precision", nullable: false),
                    People = table.Column<int>(type: "integer", nullable: true),
                    Activity = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    Hours = table.Column<double>(type: "double precision", nullable: false),
                    SnowOnRoof = table.Column<bool>(type: "boolean", nullable: false),
                    Version = table.Column<Guid>(type: "uuid", nullable: false),
                    FirmId = table.Column<Guid>(type: "uuid", nullable: false)
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
